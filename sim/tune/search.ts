import { meanOf, multiply, worstEcho, type ClosedForm } from "./closed.js";
import type { Knob } from "./knobs.js";

/** A step time for each knob, with what the closed form says of it. */
export interface RoughSetting {
  readonly steps: readonly number[];
  readonly score: number;
}

/** Settings with different pairs of which all are looked at. */
const ALL_OF = 2;
/** Places from which the search sets out where there are too many settings to look at all. */
const STARTS = 60;
const ROUNDS = 8;
/** What one share of the worst echo weighs against one of the mean, for the settings that are picked for their echo. */
const ECHO_WEIGHT = 0.2;

/**
 * The most promising settings by the closed form, best first, at most `count`, none close to another: those with the
 * lowest mean, and those with a low mean and a low worst echo. All settings of the grid are looked at for up to two
 * knobs; for more, one knob after the other is set to its best from many places spread evenly.
 */
export function roughSettings(closed: ClosedForm, count: number): RoughSetting[] {
  const parts = closed.knobs.map((knob) => knob.values.map((value) => closed.partCurve(knob, value)));
  const found = closed.knobs.length <= ALL_OF ? everySetting(closed, parts) : byTurns(closed, parts);
  const byScore = [...found].sort((a, b) => a.score - b.score || a.order - b.order);
  const byEcho = [...found].sort((a, b) => a.score + ECHO_WEIGHT * a.echo - (b.score + ECHO_WEIGHT * b.echo) || a.order - b.order);
  const picked: Found[] = [];
  for (const list of [pick(closed, byScore, Math.ceil((2 * count) / 3)), pick(closed, byEcho, Math.floor(count / 3))]) {
    picked.push(...list.filter((one) => !picked.includes(one)));
  }
  return picked.map(({ at, score }) => ({ steps: at.map((i, k) => closed.knobs[k]!.values[i]!), score }));
}

interface Found {
  /** Index into the values of each knob. */
  readonly at: readonly number[];
  readonly score: number;
  readonly echo: number;
  readonly order: number;
}

type Parts = readonly (readonly Float64Array[])[];

function found(curve: Float64Array, at: readonly number[], order: number): Found {
  return { at, score: meanOf(curve), echo: worstEcho(curve), order };
}

function everySetting(closed: ClosedForm, [first, second]: Parts): Found[] {
  const all: Found[] = [];
  const curve = new Float64Array(closed.times.length);
  first!.forEach((one, i) => {
    const product = closed.unset;
    multiply(product, one);
    if (second === undefined) {
      all.push(found(product, [i], all.length));
      return;
    }
    second.forEach((other, j) => {
      curve.set(product);
      multiply(curve, other);
      all.push(found(curve, [i, j], all.length));
    });
  });
  return all;
}

/** Sets one knob after the other to its best until none moves. What it passes on its way is kept too. */
function byTurns(closed: ClosedForm, parts: Parts): Found[] {
  const seen = new Map<string, Found>();
  const curveAt = (at: readonly number[], without: number): Float64Array => {
    const curve = closed.unset;
    at.forEach((i, k) => {
      if (k !== without) multiply(curve, parts[k]![i]!);
    });
    return curve;
  };
  for (let start = 0; start < STARTS; start++) {
    const at = parts.map((values, k) => Math.floor(spreadEvenly(start + 1, k) * values.length));
    for (let round = 0, moved = true; round < ROUNDS && moved; round++) {
      moved = false;
      for (let k = 0; k < parts.length; k++) {
        const rest = curveAt(at, k);
        const best = lowest(parts[k]!, (part) => dot(rest, part));
        if (best !== at[k]) moved = true;
        at[k] = best;
        const key = at.join();
        if (seen.has(key)) continue;
        const curve = curveAt(at, -1);
        seen.set(key, found(curve, [...at], seen.size));
      }
    }
  }
  return [...seen.values()];
}

/** The n-th of points that fill a cube evenly: multiples of roots of primes, their whole parts left out. */
function spreadEvenly(n: number, dimension: number): number {
  let prime = 2;
  for (let left = dimension; ; prime++) {
    let divides = false;
    for (let d = 2; d * d <= prime; d++) divides ||= prime % d === 0;
    if (!divides && left-- === 0) break;
  }
  const place = n * Math.sqrt(prime);
  return place - Math.floor(place);
}

function lowest<T>(values: readonly T[], of: (value: T) => number): number {
  let best = 0;
  let least = Infinity;
  values.forEach((value, i) => {
    const result = of(value);
    if (result < least) [best, least] = [i, result];
  });
  return best;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** The first `count` of a list that lie apart from each other. */
function pick(closed: ClosedForm, sorted: readonly Found[], count: number): Found[] {
  const stepsOf = ({ at }: Found): number[] => at.map((i, k) => closed.knobs[k]!.values[i]!);
  return pickApart(sorted, stepsOf, closed.knobs, count, 1);
}

/**
 * The first `count` of a list of settings none of which is close to another: they differ in some knob by more than
 * `distance` times what a stopwatch makes of one (its reading error, or 0.2 % of the step).
 */
export function pickApart<T>(sorted: readonly T[], stepsOf: (one: T) => readonly number[], knobs: readonly Knob[], count: number, distance: number): T[] {
  const picked: T[] = [];
  for (const one of sorted) {
    if (picked.length === count) break;
    const steps = stepsOf(one);
    const apart = (other: T): boolean =>
      knobs.some(({ reading }, k) => Math.abs(steps[k]! - stepsOf(other)[k]!) > distance * Math.max(reading, 0.002 * steps[k]!));
    if (picked.every(apart)) picked.push(one);
  }
  return picked;
}
