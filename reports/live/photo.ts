import { pictureFacts, tooLarge, PICTURE_LIMIT } from "../../sim/scenario/picture.js";
import { PHOTO_ID, photoFrom, type Photo } from "../pictures/photo.js";
import { photoOf } from "./computed.js";
import type { Store } from "./store.js";

/** The picture that the page was written with, under the name that its scenario gives it. */
export function photoInPage(name: string | null): readonly Photo[] {
  const image = document.getElementById(PHOTO_ID);
  if (name === null || image === null) return [];
  return [{ name, width: Number(image.getAttribute("width")), height: Number(image.getAttribute("height")), address: image.getAttribute("href")! }];
}

/** Whether a file that was picked or dropped is to be a picture, by its name or by what the browser takes it for. */
export function isPicture({ name, type }: File): boolean {
  return type.startsWith("image/") || /\.(jpe?g|png|svg)$/i.test(name);
}

/** A picture that somebody picked or dropped. Throws an Error whose message says what is wrong with it. */
export async function photoFromFile(file: File): Promise<Photo> {
  // one that is too large is refused unread
  const bytes = file.size > PICTURE_LIMIT ? new Uint8Array() : new Uint8Array(await file.arrayBuffer());
  const found = file.size > PICTURE_LIMIT ? tooLarge(file.size) : pictureFacts(bytes);
  if (typeof found === "string") throw new Error(`${file.name}: ${found}`);
  return photoFrom({ name: file.name, bytes, ...found });
}

/** Keeps the one place of the page where its picture stands in line with what is shown. */
export function keepPhoto(store: Store): void {
  store.watch(photoOf, (photo) => {
    if (photo === null) return;
    const image = document.getElementById(PHOTO_ID) ?? putIn();
    const { width, height, address } = photo;
    if (image.getAttribute("href") === address) return;
    for (const [name, value] of Object.entries({ width, height, href: address })) image.setAttribute(name, String(value));
  });
}

function putIn(): Element {
  const made = (name: string): Element => document.createElementNS("http://www.w3.org/2000/svg", name);
  const [svg, defs, image] = [made("svg"), made("defs"), made("image")];
  svg.setAttribute("class", "unseen");
  svg.setAttribute("aria-hidden", "true");
  image.id = PHOTO_ID;
  defs.append(image);
  svg.append(defs);
  document.body.prepend(svg);
  return image;
}
