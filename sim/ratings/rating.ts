import type { Moment } from "./demand.js";

/** Up to 80 % of the limit, up to all of it, or beyond. */
export type RatingVerdict = "within" | "close" | "over";

/** One thing that has a limit, with how much of it the display uses. */
export interface Rating {
  /** What is rated, such as "driver channel current". */
  readonly what: string;
  /** Which one, such as "quay output 3". */
  readonly where: string;
  /** In `unit`, like `limit`. */
  readonly value: number;
  readonly limit: number;
  readonly unit: string;
  /**
   * How much of the limit is used: value/limit where the limit is a most, limit/value where it is a least, so that 1
   * is the limit itself either way. At most {@link LARGEST_SHARE}.
   */
  readonly share: number;
  readonly verdict: RatingVerdict;
  /** Where the limit comes from. */
  readonly source: string;
  /** The recorded moment that asks most, with the houses (by id) then lit; null where no moment matters. */
  readonly worst: Moment | null;
  /** What would help; null when nothing need be done. */
  readonly advice: string | null;
}

/** What a row is made of; `advice` is kept only where the verdict calls for it. */
type Row = Pick<Rating, "what" | "where" | "value" | "limit" | "unit" | "source"> & {
  readonly worst?: Moment | null;
  readonly advice: string;
};

/** Up to this share of the limit a part runs with something in hand. */
export const WITHIN = 0.8;

/** Shares end here: beyond it, or where a least limit meets nothing at all, a number says no more. */
export const LARGEST_SHARE = 1000;

/** Sums of lamp currents are off by a few units in the last place; a part exactly at its limit is not over it. */
const ROUNDING = 1 + 1e-9;

/** `within` up to 80 % of the limit, `close` up to all of it, else `over`. */
export function verdictOf(share: number): RatingVerdict {
  if (share <= WITHIN * ROUNDING) return "within";
  return share <= ROUNDING ? "close" : "over";
}

/** A rating whose value must not exceed its limit. */
export function atMost(row: Row): Rating {
  return rated(row, row.limit > 0 ? row.value / row.limit : LARGEST_SHARE);
}

/** A rating whose value must not fall below its limit. */
export function atLeast(row: Row): Rating {
  return rated(row, row.value > 0 ? row.limit / row.value : LARGEST_SHARE);
}

/** A rating with a limit on either side: the one that is nearer counts. */
export function between(row: Omit<Row, "limit">, least: number, most: number): Rating {
  const low = atLeast({ ...row, limit: least });
  const high = atMost({ ...row, limit: most });
  return low.share > high.share ? low : high;
}

function rated({ advice, worst = null, ...row }: Row, share: number): Rating {
  const bounded = Math.min(share, LARGEST_SHARE);
  const verdict = verdictOf(bounded);
  return { ...row, share: bounded, verdict, worst, advice: verdict === "within" ? null : advice };
}
