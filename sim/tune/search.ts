import { worstEcho } from "../figures/repeat.js";
import { meanOf, multiply, type ClosedForm } from "./closed.js";
import type { Knob } from "./knobs.js";

/** A step time for each knob. */
export interface RoughSetting {
  readonly steps: readonly number[];
}

/** Settings with different pairs of which all are looked at. */
const ALL_OF = 2;
/** Places from which the search sets out where there are too many settings to look at all. */
const STARTS = 60;
const ROUNDS = 8;
/** What one share of the worst echo weighs against one of the mean, for the settings that are picked for their echo. */
const ECHO_WEIGHT = 0.2;
/** Ratios of small numbers in which boards may step. */
const LOCKED = [[1, 1], [1, 2], [2, 1], [2, 3], [3, 2]] as const;

/**
 * The most promising settings by the closed form, best first, at most `count`, none close to another: those with the
 * lowest mean and share of stays with a repeat, those with the lowest mean alone, those with a low mean and a low worst
 * echo, and those that step in a ratio of small numbers. All settings of the grid are looked at for up to two
 * knobs; for more, one knob after the other is set to its best from many places spread evenly. When it is stopped, those
 * of what has been looked at.
 */
export async function roughSettings(closed: ClosedForm, count: number, isStopped: IsStopped): Promise<RoughSetting[]> {
  const parts = closed.knobs.map((knob) => knob.values.map((value) => closed.partCurve(knob, value)));
  const found = await (closed.knobs.length <= ALL_OF ? everySetting(closed, parts, isStopped) : byTurns(closed, parts, isStopped));
  const byScore = [...found].sort((a, b) => a.score - b.score || a.order - b.order);
  const byEcho = [...found].sort((a, b) => a.score + ECHO_WEIGHT * a.echo - (b.score + ECHO_WEIGHT * b.echo) || a.order - b.order);
  const byStay = [...found].sort((a, b) => a.score + a.stay - (b.score + b.stay) || a.order - b.order);
  const locked = byStay.filter(({ at }) => isLocked([...closed.fixedSteps, ...stepsOf(closed, at)]));
  const quarter = Math.floor(count / 4);
  const picked: Found[] = [];
  for (const list of [pick(closed, byStay, count - 3 * quarter), pick(closed, locked, quarter), pick(closed, byScore, quarter), pick(closed, byEcho, quarter)]) {
    picked.push(...list.filter((one) => !picked.includes(one)));
  }
  return picked.map(({ at }) => ({ steps: stepsOf(closed, at) }));
}

/** Asked now and then whether to stop. */
export type IsStopped = () => Promise<boolean>;

interface Found {
  /** Index into the values of each knob. */
  readonly at: readonly number[];
  readonly score: number;
  readonly echo: number;
  /** Share of visitors who see a scene come back, about. */
  readonly stay: number;
  readonly order: number;
}

type Parts = readonly (readonly Float64Array[])[];

function found(closed: ClosedForm, curve: Float64Array, at: readonly number[], order: number): Found {
  return { at, score: meanOf(curve), echo: worstEcho(curve), stay: closed.stayRepeat(curve, stepsOf(closed, at)), order };
}

/**
 * Whether two boards step in a ratio of small numbers. They keep their places to each other then, of which the closed form
 * takes the mean: it cannot tell those that never come back in a stay (four and seven equal steps, say) from others.
 */
function isLocked(steps: readonly number[]): boolean {
  return steps.some((a, i) => steps.slice(i + 1).some((b) => LOCKED.some(([p, q]) => Math.abs(a * p - b * q) < 1e-6 * a)));
}

function stepsOf({ knobs }: ClosedForm, at: readonly number[]): number[] {
  return at.map((i, k) => knobs[k]!.values[i]!);
}

async function everySetting(closed: ClosedForm, [first, second]: Parts, isStopped: IsStopped): Promise<Found[]> {
  const all: Found[] = [];
  const curve = new Float64Array(closed.times.length);
  for (const [i, one] of first!.entries()) {
    if (await isStopped()) break;
    const product = closed.unset;
    multiply(product, one);
    if (second === undefined) {
      all.push(found(closed, product, [i], all.length));
      continue;
    }
    second.forEach((other, j) => {
      curve.set(product);
      multiply(curve, other);
      all.push(found(closed, curve, [i, j], all.length));
    });
  }
  return all;
}

/** Sets one knob after the other to its best until none moves. What it passes on its way is kept too. */
async function byTurns(closed: ClosedForm, parts: Parts, isStopped: IsStopped): Promise<Found[]> {
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
      if (await isStopped()) return [...seen.values()];
      moved = false;
      for (let k = 0; k < parts.length; k++) {
        const rest = curveAt(at, k);
        const best = lowest(parts[k]!, (part) => dot(rest, part));
        if (best !== at[k]) moved = true;
        at[k] = best;
        const key = at.join();
        if (seen.has(key)) continue;
        const curve = curveAt(at, -1);
        seen.set(key, found(closed, curve, [...at], seen.size));
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
  return pickApart(sorted, ({ at }) => stepsOf(closed, at), closed.knobs, count, 1);
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
