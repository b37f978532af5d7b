import type { Visitors } from "../model/scenario.js";
import { timeFollowedAfter, timeFollowedCurve } from "./followed.js";
import { openTimes, type Timeline } from "./timeline.js";
import { type Micros, SECOND, type Seconds, toSeconds } from "../units/time.js";

/** How often the same scene is shown so much later. */
export interface RepeatPoint {
  /** Return time. */
  readonly afterSeconds: Seconds;
  /**
   * Of the moments that are open both then and that much later, the share that shows one scene both times; null when
   * there is no such moment.
   */
  readonly share: number | null;
}

/** What visitors meet who come back. */
export interface RepeatFigures {
  /** At the return times of the scenario, in its order. */
  readonly returns: readonly RepeatPoint[];
  /** Every 15 s up to three hours. */
  readonly curve: readonly RepeatPoint[];
  readonly echoes: readonly Echo[];
}

/** A return time after which a visitor meets the same scene unusually often. */
export interface Echo {
  readonly afterSeconds: Seconds;
  readonly share: number;
}

/** Distance of the points of the repeat curve, and their number: 15 s … 3 h. */
export const CURVE_STEP: Micros = 15 * SECOND;
export const CURVE_POINTS = 720;

/** The least share that is called an echo. */
export const ECHO_SHARE = 0.25;

/** How often a visitor who comes back meets the same scene. */
export function repeatFigures(line: Timeline, { returns }: Visitors): RepeatFigures {
  const curve = repeatCurve(line);
  return { returns: repeatReturns(line, returns), curve, echoes: echoes(curve) };
}

/** The share for each of these return times (microseconds). Cost: two steps a spell and return time. */
export function repeatReturns(line: Timeline, returns: readonly number[]): RepeatPoint[] {
  return returns.map((delay) => ({ afterSeconds: toSeconds(delay), share: repeatAfter(line, delay) }));
}

/**
 * R(D): of the moments t with t and t + D both in open time, the share with the same scene at both, for D = `delay`
 * microseconds; across days too. Null when there is no such moment.
 */
export function repeatAfter(line: Timeline, delay: Micros): number | null {
  const both = timeFollowedAfter(openTimes(line.openings), delay);
  return both === 0 ? null : timeFollowedAfter(line, delay) / both;
}

/** R(D) for D = 15 s, 30 s … 3 h; for its cost see {@link timeFollowedCurve}. */
export function repeatCurve(line: Timeline): RepeatPoint[] {
  const same = timeFollowedCurve(line, CURVE_STEP, CURVE_POINTS);
  const both = timeFollowedCurve(openTimes(line.openings), CURVE_STEP, CURVE_POINTS);
  return Array.from({ length: CURVE_POINTS }, (_, i) => ({
    afterSeconds: toSeconds((i + 1) * CURVE_STEP),
    share: both[i + 1] === 0 ? null : same[i + 1]! / both[i + 1]!,
  }));
}

/** The highest point of a curve of returns after its first fall, the worst echo; 0 where it only falls. */
export function worstEcho(curve: ArrayLike<number>): number {
  let i = 1;
  while (i < curve.length && curve[i]! <= curve[i - 1]!) i++;
  let most = 0;
  for (; i < curve.length; i++) most = Math.max(most, curve[i]!);
  return most;
}

/**
 * The local maxima of a repeat curve that reach {@link ECHO_SHARE}, in order of return time. The first fall from
 * R(0) = 1, up to where the curve rises for the first time, is not looked at. A level stretch counts once, at its
 * first point. A maximum needs a lower point on either side: neither the last point of the curve nor one beside an
 * undefined one is known to be a maximum.
 */
export function echoes(curve: readonly RepeatPoint[]): Echo[] {
  const found: Echo[] = [];
  /** First point of the level stretch we are on, when the curve rose to get there. */
  let top: Echo | null = null;
  let before: number | null = 1;
  for (const { afterSeconds, share } of curve) {
    if (share === null || before === null) {
      top = null;
    } else if (share > before) {
      top = { afterSeconds, share };
    } else if (share < before) {
      if (top !== null && top.share >= ECHO_SHARE) found.push(top);
      top = null;
    }
    before = share;
  }
  return found;
}
