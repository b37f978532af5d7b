/** A photo or drawing of the display, in whose pixels the houses' places are. */
export interface Picture {
  /** As the scenario names it. */
  readonly name: string;
  readonly type: PictureType;
  /** Pixels, as it is seen: a photo taken upright is higher than wide. For a drawing, its own units. */
  readonly width: number;
  readonly height: number;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

export type PictureType = "image/jpeg" | "image/png" | "image/svg+xml";
