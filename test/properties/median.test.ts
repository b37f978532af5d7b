import { expect, test } from "vitest";
import { medianOf } from "../../sim/statistics/median.js";

/** The definition, by sorting. */
function bySorting(values: Float64Array): number {
  const sorted = values.toSorted();
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

// up to 256 values are sorted, more are counted in 1,024 buckets: here once, twice and more often
test.each([1, 2, 3, 10, 255, 256, 257, 999, 300_000, 300_001])("the median of %i values, also where they are too many to be copied", (length) => {
  // squares of a Weyl sequence: crowded below, spread above, few equal
  const spread = Float64Array.from({ length }, (_, i) => Math.round(1e9 * ((i * 0.6180339887498949) % 1) ** 6));
  expect(medianOf(spread)).toBe(bySorting(spread));
  const few = spread.map((value) => value % 3);
  expect(medianOf(few)).toBe(bySorting(few));
  const outlier = few.map((value, i) => (i === 0 ? 1e15 : value));
  expect(medianOf(outlier)).toBe(bySorting(outlier));
});
