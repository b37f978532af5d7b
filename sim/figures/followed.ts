import type { Spans } from "./timeline.js";
import type { Micros } from "../units/time.js";

/**
 * For how long, in all, moments are followed by a moment of the same scene exactly `delay` later. Microseconds, exact.
 * One walk along the spans beside themselves moved by `delay`: two steps a span.
 */
export function timeFollowedAfter({ from, until, scene }: Spans, delay: Micros): number {
  const n = from.length;
  let total = 0;
  let now = 0;
  let later = 0;
  while (now < n && later < n) {
    const nowUntil = until[now]! + delay;
    const laterUntil = until[later]!;
    if (scene[now] === scene[later]) {
      const both = Math.min(nowUntil, laterUntil) - Math.max(from[now]! + delay, from[later]!);
      if (both > 0) total += both;
    }
    if (nowUntil <= laterUntil) now++;
    else later++;
  }
  return total;
}

/**
 * For how long moments of one span are followed by a moment of another, summed over pairs of spans, for all delays
 * 0, step, 2·step … count·step at once.
 *
 * As the delay grows, the time for which [from, until) is followed by [laterFrom, laterUntil) rises with slope 1,
 * stays level, falls with slope −1 and is 0 again: a trapezoid with its corners at the four differences of the ends.
 * Each corner adds to the slope of the sum from there on, so it is enough to note, for each stretch between two
 * delays of the list, how many corners lie in it (by sign) and how far before its end. Whole numbers throughout:
 * the sums are exact below 2^53.
 */
export class FollowedCurve {
  private readonly perStep: number;
  /** Change of slope in the stretch that ends at each delay. */
  private readonly bend: Float64Array;
  /** What these changes amount to by the end of their stretch. */
  private readonly lead: Float64Array;

  constructor(
    private readonly step: number,
    private readonly count: number,
  ) {
    this.perStep = 1 / step;
    this.bend = new Float64Array(count + 1);
    this.lead = new Float64Array(count + 1);
  }

  /** Adds a pair of spans, or a span with itself. */
  add(from: Micros, until: Micros, laterFrom: Micros, laterUntil: Micros): void {
    this.corner(laterFrom - until, 1);
    this.corner(laterFrom - from, -1);
    this.corner(laterUntil - until, -1);
    this.corner(laterUntil - from, 1);
  }

  private corner(delay: Micros, bend: number): void {
    // A corner that rounding moves across a whole number of steps is on it, and counts the same on either side
    const stretch = delay <= 0 ? 0 : Math.ceil(delay * this.perStep);
    if (stretch > this.count) return;
    this.bend[stretch]! += bend;
    this.lead[stretch]! += bend * (stretch * this.step - delay);
  }

  /** Time followed at each delay: values[k] at k·step. */
  values(): Float64Array {
    const values = new Float64Array(this.count + 1);
    let slope = 0;
    let value = 0;
    for (let k = 0; k <= this.count; k++) {
      value += slope * this.step + this.lead[k]!;
      slope += this.bend[k]!;
      values[k] = value;
    }
    return values;
  }
}

/** Walking past a span for one delay takes about as long as adding this many pairs. */
const PAIRS_PER_STOP = 0.5;

/**
 * {@link timeFollowedAfter} for the delays 0, step, 2·step … count·step. Adds up the pairs of spans with one scene
 * that lie no further apart than the longest delay: for the repeat curve of a usual display 1 to 10 pairs a span,
 * about 30 ms for a million spans. Where scenes are few and spans short there would be hundreds; then a walk for each delay is
 * quicker, about 7 s for a million spans whatever they show.
 */
export function timeFollowedCurve(spans: Spans, step: number, count: number): Float64Array {
  const reach = step * count;
  if (pairsWithin(spans, reach) > PAIRS_PER_STOP * spans.from.length * count) {
    return Float64Array.from({ length: count + 1 }, (_, k) => timeFollowedAfter(spans, k * step));
  }
  const { from, until } = spans;
  const curve = new FollowedCurve(step, count);
  const before = previousOfScene(spans);
  for (let later = 0; later < from.length; later++) {
    const laterFrom = from[later]!;
    const laterUntil = until[later]!;
    for (let now = later; now >= 0 && laterFrom - until[now]! < reach; now = before[now]!) {
      curve.add(from[now]!, until[now]!, laterFrom, laterUntil);
    }
  }
  return curve.values();
}

/** For each span the number of the last one before it with the same scene, −1 where there is none. */
function previousOfScene({ scene, scenes }: Spans): Int32Array {
  const last = new Int32Array(scenes).fill(-1);
  const previous = new Int32Array(scene.length);
  for (let i = 0; i < scene.length; i++) {
    previous[i] = last[scene[i]!]!;
    last[scene[i]!] = i;
  }
  return previous;
}

/** Number of pairs of spans with one scene less than `reach` apart, each with itself included. */
function pairsWithin({ from, until, scene, scenes }: Spans, reach: number): number {
  const near = new Int32Array(scenes);
  let pairs = 0;
  let first = 0;
  for (let i = 0; i < scene.length; i++) {
    while (from[i]! - until[first]! >= reach) near[scene[first++]!]!--;
    pairs += ++near[scene[i]!]!;
  }
  return pairs;
}
