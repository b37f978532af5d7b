import { CURVE_STEP } from "../figures/repeat.js";
import { timeFollowedCurve } from "../figures/followed.js";
import { openTimes } from "../figures/timeline.js";
import type { Measures } from "../figures/measures.js";
import { evidenceOf } from "../promises/evidence.js";
import { isKept } from "../promises/judge.js";
import { kindOf } from "../promises/kinds/index.js";
import type { Job } from "../crew/crew.js";
import { withSteps } from "../knob/settings.js";
import type { Promised, Scenario } from "../model/scenario.js";
import { builds } from "../builds/draw.js";
import { wilson, type Proportion } from "../statistics/intervals.js";
import { promiseText } from "../promises/text.js";
import { NOMINAL } from "../timers/build.js";
import { worstEcho } from "../figures/repeat.js";
import { FIRST_RETURN, meanOf } from "./closed.js";
import { toMicros } from "../units/time.js";

/** What simulation finds of one setting, means over the builds that do not stall. */
export interface Judged {
  /** Mean share of the same scene over the return times, plus the repeat share of a stay; lower is better. */
  readonly score: number;
  readonly meanReturn: number;
  readonly stayRepeat: number;
  /** The highest point of the mean curve after its first fall. */
  readonly worstEcho: number;
  /** What two glances at random show: no setting does much better at every return time. */
  readonly chance: number;
  /** Builds in which a knob does not reach its setting and stays at the end of its track, and in which a timer stalls. */
  readonly unreachable: number;
  readonly stalled: number;
  readonly promises: readonly PromiseKept[];
}

export interface PromiseKept extends Proportion {
  readonly promise: string;
  readonly text: string;
  readonly kept: number;
  readonly builds: number;
}

/** Settings to judge: their scenario, and the return times of the score in seconds. */
export interface Judging {
  readonly scenario: Scenario;
  readonly times: readonly number[];
}

/** Builds to simulate one after the other, with the knobs of these boards at step times (seconds, by index of board). */
export interface Trial {
  readonly steps: ReadonlyMap<number, number>;
  /** Numbers of the builds; 0 is the nominal one. */
  readonly builds: readonly number[];
}

/** Where the numbers of a build stand in its row; behind them whether each promise is kept (1 or 0), then the curve of returns. */
const STALLED = 0;
const UNREACHABLE = 1;
const STAY = 2;
const CHANCE = 3;
const PROMISES = 4;

/**
 * Simulates builds of a setting: a row of numbers for each. Build numbers are those of every setting, so
 * that settings are compared on the same draws.
 */
export const job: Job<Judging, Trial, readonly Float64Array[]> = {
  module: import.meta.url,
  prepare: ({ scenario, times }) => {
    let latest: { readonly key: string; readonly rowOf: (number: number) => Float64Array } | null = null;
    return ({ steps, builds: numbers }) => {
      const key = JSON.stringify([[...steps], numbers[0] === 0]);
      if (latest?.key !== key) latest = { key, rowOf: rowsOf(withSteps(scenario, steps), times, promisesIn(scenario, numbers)) };
      const { rowOf } = latest;
      return numbers.map(rowOf);
    };
  },
};

/** Nominal builds are looked at by the hundred: their ratings, which hardly depend on the knobs, are left out. */
function promisesIn({ promises }: Scenario, numbers: readonly number[]): Promised[] {
  return promises.filter((promised) => numbers[0] !== 0 || kindOf(promised).needs !== "trace");
}

function rowsOf(scenario: Scenario, times: readonly number[], promises: readonly Promised[]): (number: number) => Float64Array {
  // a knob that is set by its dial in the file has no reading error there, but has one here
  const draw = builds(scenario);
  const evidence = evidenceOf(scenario, promises);
  const { stay } = scenario.visitors;
  return (number) => {
    const row = new Float64Array(PROMISES + promises.length + times.length);
    const found = evidence(number === 0 ? NOMINAL : draw(number));
    if (found.stalled.length > 0) {
      row[STALLED] = 1;
      return row;
    }
    const { measures } = found;
    row[UNREACHABLE] = found.outOfReach ? 1 : 0;
    row[STAY] = measures.repeatWithin(stay) ?? 0;
    row[CHANCE] = measures.sameAtRandom;
    promises.forEach((promised, p) => (row[PROMISES + p] = isKept(promised, found) ? 1 : 0));
    row.set(returnShares(measures, times.length), PROMISES + promises.length);
    return row;
  };
}

/** The shares of one record at the return times; not a number for one at which the display is never open both times. */
function returnShares({ line }: Measures, count: number): Float64Array {
  const first = toMicros(FIRST_RETURN) / CURVE_STEP;
  const last = first + count - 1;
  const same = timeFollowedCurve(line, CURVE_STEP, last);
  const both = timeFollowedCurve(openTimes(line.openings), CURVE_STEP, last);
  return Float64Array.from({ length: count }, (_, i) => same[first + i]! / both[first + i]!);
}

/** Scores a setting by the rows of all its builds, in their order. Null where every build stalls. */
export function judged({ scenario, times }: Judging, numbers: readonly number[], rows: readonly Float64Array[]): Judged | null {
  const promises = promisesIn(scenario, numbers);
  const running = rows.filter((row) => row[STALLED] === 0);
  if (running.length === 0) return null;
  const total = (i: number): number => running.reduce((sum, row) => sum + row[i]!, 0);
  const mean = times.map((_, i) => {
    const shares = running.map((row) => row[PROMISES + promises.length + i]!).filter((share) => !Number.isNaN(share));
    return shares.length === 0 ? 0 : shares.reduce((sum, share) => sum + share, 0) / shares.length;
  });
  const meanReturn = meanOf(mean);
  const stayRepeat = total(STAY) / running.length;
  return {
    score: meanReturn + stayRepeat,
    meanReturn,
    stayRepeat,
    worstEcho: worstEcho(mean),
    chance: total(CHANCE) / running.length,
    unreachable: total(UNREACHABLE),
    stalled: rows.length - running.length,
    promises: promises.map((promised, p) => {
      const kept = total(PROMISES + p);
      return { promise: promised.kind, text: promiseText(promised), kept, builds: rows.length, ...wilson(kept, rows.length) };
    }),
  };
}

/** How well promises are kept, in tenths of all builds, added up: settings that differ by less are taken for alike. */
export function promisesKept({ promises }: Pick<Judged, "promises">): number {
  return promises.reduce((sum, { share }) => sum + Math.round(10 * share), 0);
}
