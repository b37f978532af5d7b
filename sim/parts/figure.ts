/** A figure of a part with where it comes from. SI units unless its name says otherwise. */
export interface Figure {
  readonly value: number;
  readonly source: string;
}

/** As {@link Figure}; null where no figure could be found, and `source` then says what is known instead. */
export interface Sourced {
  readonly value: number | null;
  readonly source: string;
}

/** What stands behind a figure that everybody in the trade knows and nobody prints. */
export const COMMON_PRACTICE = "common practice, no source";
