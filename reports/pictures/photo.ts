import type { Picture } from "../../sim/model/picture.js";

/** A picture of the display as a page carries it. */
export interface Photo {
  readonly name: string;
  /** Pixels, as it is seen. */
  readonly width: number;
  readonly height: number;
  /** The picture itself, as a data: address. */
  readonly address: string;
}

/** Id of the one place of a page where its picture stands; whatever shows it refers to that. */
export const PHOTO_ID = "lampdrift-photo";

/** By day a photo would outshine its lamps: this is laid over it. */
export const DUSK = "#070d1c";
export const DUSK_SHARE = 0.62;

const PIECE = 8192;

export function photoFrom({ name, type, width, height, bytes }: Picture): Photo {
  let binary = "";
  for (let i = 0; i < bytes.length; i += PIECE) binary += String.fromCharCode(...bytes.subarray(i, i + PIECE));
  return { name, width, height, address: `data:${type};base64,${btoa(binary)}` };
}

/** Name of the picture's file beside the pictures of a report. */
export function pictureFileName({ address }: Photo): string {
  const kind = /^data:image\/(\w+)/.exec(address)![1]!;
  return `picture.${kind === "jpeg" ? "jpg" : kind}`;
}
