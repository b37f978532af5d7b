import { quickselect } from "d3-array";

/** A list up to this long is copied. */
const COPIED = 2 ** 20;
const BUCKETS = 2 ** 12;

/** Median, the mean of the two middle values where their number is even. Linear time; not for an empty list. */
export function medianOf(values: Float64Array): number {
  const half = values.length >> 1;
  const odd = values.length % 2 === 1;
  if (values.length > COPIED) return odd ? nth(values, half) : (nth(values, half - 1) + nth(values, half)) / 2;
  const copy = values.slice();
  quickselect(copy, half);
  if (odd) return copy[half]!;
  // quickselect leaves the lower half in front
  let lower = -Infinity;
  for (let i = 0; i < half; i++) lower = Math.max(lower, copy[i]!);
  return (lower + copy[half]!) / 2;
}

/**
 * The value that has exactly `rank` others before it in ascending order. Of a long list only those values are copied that
 * counting in ever narrower buckets leaves in question.
 */
function nth(values: Float64Array, rank: number): number {
  let low = values.reduce((least, value) => Math.min(least, value), Infinity);
  let high = values.reduce((most, value) => Math.max(most, value), -Infinity);
  let inside = values.length;
  let before = 0;
  while (inside > COPIED && low < high) {
    const width = (high - low) / BUCKETS;
    const counts = new Float64Array(BUCKETS);
    const least = new Float64Array(BUCKETS).fill(Infinity);
    const most = new Float64Array(BUCKETS).fill(-Infinity);
    for (const value of values) {
      if (value < low || value > high) continue;
      const bucket = Math.min(BUCKETS - 1, Math.floor((value - low) / width));
      counts[bucket]!++;
      if (value < least[bucket]!) least[bucket] = value;
      if (value > most[bucket]!) most[bucket] = value;
    }
    let bucket = 0;
    while (before + counts[bucket]! <= rank) before += counts[bucket++]!;
    low = least[bucket]!;
    high = most[bucket]!;
    inside = counts[bucket]!;
  }
  if (low === high) return low;
  const left = values.filter((value) => value >= low && value <= high);
  quickselect(left, rank - before);
  return left[rank - before]!;
}
