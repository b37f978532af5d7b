import { JPG } from "image-size/types/jpg";
import { PNG } from "image-size/types/png";
import { SVG } from "image-size/types/svg";
import type { PictureType } from "../model/picture.js";

/** Larger pictures are refused: a page that carries one should still fit into a message. */
export const PICTURE_LIMIT = 4_000_000;

/** A drawing says what it is in its first lines. */
const DRAWING_BEGINS_WITHIN = 50_000;
/** Orientations of EXIF that lay a photo on its side. */
const ON_ITS_SIDE = 5;

export interface PictureFacts {
  readonly type: PictureType;
  readonly width: number;
  readonly height: number;
}

/** What kind of picture these bytes are, by how they begin, and its size in pixels; a text that says why not where they are none. */
export function pictureFacts(bytes: Uint8Array): PictureFacts | string {
  if (bytes.length > PICTURE_LIMIT) return tooLarge(bytes.length);
  const begin = new TextDecoder("latin1").decode(bytes.subarray(0, DRAWING_BEGINS_WITHIN));
  try {
    if (begin.startsWith("\xff\xd8\xff")) {
      const { width, height, orientation = 1 } = JPG.calculate(bytes);
      return sized("image/jpeg", orientation < ON_ITS_SIDE ? [width, height] : [height, width]);
    }
    if (begin.startsWith("\x89PNG\r\n\x1a\n")) {
      const { width, height } = PNG.calculate(bytes);
      return sized("image/png", [width, height]);
    }
    if (isDrawing(begin)) {
      const { width, height } = SVG.calculate(bytes.subarray(0, DRAWING_BEGINS_WITHIN));
      return sized("image/svg+xml", [width, height]);
    }
  } catch {
    return WITHOUT_SIZE;
  }
  return `expected a JPEG, PNG or SVG picture; ${otherKind(begin)}`;
}

/** What is said of a picture with so many bytes. */
export function tooLarge(size: number): string {
  // rounded up: what is too large never has the very size that is allowed
  const megabytes = (bytes: number): string => `${Math.ceil(bytes / 1e4) / 100} MB`;
  return `the picture has ${megabytes(size)}; expected at most ${megabytes(PICTURE_LIMIT)}: save it smaller, 2000 pixels across are plenty`;
}

const WITHOUT_SIZE =
  "the picture is damaged or does not say how large it is; save it again as JPEG or PNG, or give the drawing a width, a height and " +
  "a viewBox";

function sized(type: PictureType, [width, height]: readonly [number, number]): PictureFacts | string {
  return width > 0 && height > 0 && Number.isFinite(width * height) ? { type, width, height } : WITHOUT_SIZE;
}

/** Whether a text begins as an SVG drawing does: its first element is `svg`, behind whatever XML lets stand before it. */
function isDrawing(begin: string): boolean {
  const before = /^(?:\xef\xbb\xbf)?(?:\s+|<\?[^>]*\?>|<!--[^]*?-->|<!DOCTYPE[^[>]*(?:\[[^\]]*\]\s*)?>)*/i.exec(begin)![0];
  return /^<svg[\s>]/.test(begin.slice(before.length));
}

const OTHERS: readonly (readonly [begin: RegExp, words: string])[] = [
  [/^GIF8/, "this is a GIF"],
  [/^RIFF[^]{4}WEBP/, "this is a WebP picture"],
  [/^[^]{4}ftyp(?:hei|hev|mif|msf)/, "this is a HEIC photo, as some phones take them"],
  [/^[^]{4}ftypavi/, "this is an AVIF picture"],
  [/^(?:II\*\0|MM\0\*)/, "this is a TIFF picture"],
  [/^BM/, "this is a bitmap (BMP)"],
  [/^%PDF/, "this is a PDF"],
  [/^$/, "this file is empty"],
];

function otherKind(begin: string): string {
  return OTHERS.find(([pattern]) => pattern.test(begin))?.[1] ?? "this file begins like none of them";
}
