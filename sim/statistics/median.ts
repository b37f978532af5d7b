import { quickselect } from "d3-array";

/** A list up to this long is sorted out without counting. */
const SHORT = 2 ** 8;
const BUCKETS = 2 ** 10;

/** Median, the mean of the two middle values where their number is even. Linear time; not for an empty list. */
export function medianOf(values: Float64Array): number {
  const half = values.length >> 1;
  const upper = nth(values, half);
  if (values.length % 2 === 1) return upper;
  let below = 0;
  let next = -Infinity;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (value >= upper) continue;
    below++;
    if (value > next) next = value;
  }
  return ((below === half ? next : upper) + upper) / 2;
}

/**
 * The value that has exactly `rank` others before it in ascending order. Only those values are copied that counting in
 * ever narrower buckets leaves in question.
 */
function nth(values: Float64Array, rank: number): number {
  let [low, high] = endsOf(values);
  let inside = values.length;
  let before = 0;
  while (inside > SHORT && low < high) {
    const counts = countsOf(values, low, high);
    let bucket = 0;
    while (before + counts[bucket]! <= rank) before += counts[bucket++]!;
    inside = counts[bucket]!;
    [low, high] = bucketEnds(values, low, high, bucket);
  }
  if (low === high) return low;
  const left = new Float64Array(inside);
  let at = 0;
  for (let i = 0; i < values.length; i++) if (values[i]! >= low && values[i]! <= high) left[at++] = values[i]!;
  quickselect(left, rank - before);
  return left[rank - before]!;
}

/** `scale`: buckets per unit. */
function bucketOf(value: number, low: number, scale: number): number {
  const bucket = Math.floor((value - low) * scale);
  return bucket < BUCKETS ? bucket : BUCKETS - 1;
}

/** How many values lie in each of the buckets between two ends. */
function countsOf(values: Float64Array, low: number, high: number): Int32Array {
  const counts = new Int32Array(BUCKETS);
  const scale = BUCKETS / (high - low);
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (value >= low && value <= high) counts[bucketOf(value, low, scale)]!++;
  }
  return counts;
}

/** The least and the largest value in a bucket. */
function bucketEnds(values: Float64Array, low: number, high: number, bucket: number): [number, number] {
  const scale = BUCKETS / (high - low);
  let least = Infinity;
  let most = -Infinity;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (value < low || value > high || bucketOf(value, low, scale) !== bucket) continue;
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return [least, most];
}

function endsOf(values: Float64Array): [number, number] {
  let least = Infinity;
  let most = -Infinity;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return [least, most];
}
