import { quantileSorted } from "d3-array";

/** The middle nine tenths of a figure over many builds, and its ends. */
export interface Quantiles {
  readonly p05: number;
  readonly p50: number;
  readonly p95: number;
  readonly min: number;
  readonly max: number;
}

/**
 * Quantiles by linear interpolation between order statistics, definition 7 of R. J. Hyndman and Y. Fan, The American
 * Statistician 50 (1996) 361-365 (from memory), as R and spreadsheets use it. Values that are not finite are left out;
 * null when none is left.
 */
export function quantiles(values: Float64Array): Quantiles | null {
  const sorted = Array.from(values.filter(Number.isFinite).sort());
  if (sorted.length === 0) return null;
  const at = (p: number): number => quantileSorted(sorted, p)!;
  return { p05: at(0.05), p50: at(0.5), p95: at(0.95), min: sorted[0]!, max: sorted.at(-1)! };
}
