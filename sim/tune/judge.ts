import { CURVE_STEP } from "../figures/repeat.js";
import { timeFollowedCurve } from "../figures/followed.js";
import { openTimes } from "../figures/timeline.js";
import type { Measures } from "../figures/measures.js";
import { evidenceOf } from "../promises/evidence.js";
import { isKept } from "../promises/judge.js";
import { kindOf } from "../promises/kinds/index.js";
import type { Scenario } from "../model/scenario.js";
import { builds } from "../builds/draw.js";
import { wilson, type Proportion } from "../statistics/intervals.js";
import { promiseText } from "../promises/text.js";
import { NOMINAL, type Build } from "../timers/build.js";
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

/**
 * Simulates a scenario in builds 1 … `count`, or in the nominal build where that is 0, and scores it over these return
 * times. Build numbers are those of every setting, so that settings are compared on the same draws. Null where every
 * build stalls. Nominal builds are looked at by the hundred: their ratings, which hardly depend on the knobs, are left out.
 */
export function judgeSetting(scenario: Scenario, times: readonly number[], count: number): Judged | null {
  const draw = builds(scenario);
  const promises = scenario.promises.filter((promised) => count > 0 || kindOf(promised).needs !== "trace");
  const evidence = evidenceOf(scenario, promises);
  const drawn: Build[] = count === 0 ? [NOMINAL] : Array.from({ length: count }, (_, i) => draw(i + 1));
  const curve = new Float64Array(times.length);
  const defined = new Float64Array(times.length);
  const kept = promises.map(() => 0);
  let stay = 0;
  let chance = 0;
  let running = 0;
  let unreachable = 0;
  for (const build of drawn) {
    const found = evidence(build);
    if (found.stalled.length > 0) continue;
    running++;
    if (found.outOfReach) unreachable++;
    const { measures } = found;
    addCurve(measures, curve, defined);
    stay += measures.repeatWithin(scenario.visitors.stay) ?? 0;
    chance += measures.sameAtRandom;
    promises.forEach((promised, p) => {
      if (isKept(promised, found)) kept[p] = kept[p]! + 1;
    });
  }
  if (running === 0) return null;
  const mean = curve.map((sum, i) => (defined[i] === 0 ? 0 : sum / defined[i]!));
  const meanReturn = meanOf(mean);
  return {
    score: meanReturn + stay / running,
    meanReturn,
    stayRepeat: stay / running,
    worstEcho: worstEcho(mean),
    chance: chance / running,
    unreachable,
    stalled: drawn.length - running,
    promises: promises.map((promised, p) => ({
      promise: promised.kind,
      text: promiseText(promised),
      kept: kept[p]!,
      builds: drawn.length,
      ...wilson(kept[p]!, drawn.length),
    })),
  };
}

/** Adds the shares of one record at the return times; a time at which the display is never open both times is left out. */
function addCurve({ line }: Measures, curve: Float64Array, defined: Float64Array): void {
  const first = toMicros(FIRST_RETURN) / CURVE_STEP;
  const count = first + curve.length - 1;
  const same = timeFollowedCurve(line, CURVE_STEP, count);
  const both = timeFollowedCurve(openTimes(line.openings), CURVE_STEP, count);
  for (let i = 0; i < curve.length; i++) {
    if (both[first + i] === 0) continue;
    curve[i] = curve[i]! + same[first + i]! / both[first + i]!;
    defined[i] = defined[i]! + 1;
  }
}

/** How well promises are kept, in tenths of all builds, added up: settings that differ by less are taken for alike. */
export function promisesKept({ promises }: Pick<Judged, "promises">): number {
  return promises.reduce((sum, { share }) => sum + Math.round(10 * share), 0);
}
