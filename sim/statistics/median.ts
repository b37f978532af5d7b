import { quickselect } from "d3-array";

/** Median, the mean of the two middle values where their number is even. Linear time, on a copy; not for an empty list. */
export function medianOf(values: Float64Array): number {
  const copy = values.slice();
  const upper = copy.length >> 1;
  quickselect(copy, upper);
  if (copy.length % 2 === 1) return copy[upper]!;
  // quickselect leaves the lower half in front
  return (copy.subarray(0, upper).reduce((most, value) => Math.max(most, value), -Infinity) + copy[upper]!) / 2;
}
