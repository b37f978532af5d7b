import type { SceneRecord } from "../engine/record.js";
import type { Promised } from "../model/scenario.js";
import { NOMINAL, type Build } from "../timers/build.js";
import { evidenceIn, type Known } from "./evidence.js";
import { firstBreak, judge } from "./judge.js";
import type { Break, Evidence, PromiseUnit } from "./kinds/kind.js";
import { promiseText, unitOf } from "./text.js";

export type { Break, PromiseUnit } from "./kinds/kind.js";
export { valueText } from "./printing.js";

/** How one promise came out. */
export interface PromiseResult {
  readonly promise: Promised["kind"];
  /** In plain words, such as "every step after the first lasts 1 min to 4 min". */
  readonly text: string;
  /**
   * The worst that was found, in `unit`: what goes furthest beyond its limit or, where nothing does, comes nearest to it.
   * Null where there was nothing to look at (kept), and where a timer stalls (broken).
   */
  readonly value: number | null;
  /** The limit that `value` is measured against. */
  readonly limit: number;
  readonly unit: PromiseUnit;
  readonly kept: boolean;
  /** When and where a broken promise is broken, worst or first; null for one that is kept or is about the run as a whole. */
  readonly where: Break | null;
}

/**
 * Checks every promise of a scenario on the record of one build, in the order of the file. Cost: a few passes over
 * the spells for each kind of promise made; where ratings are promised and the record has no trace, another simulation.
 *
 * - `step` looks at the step times as parts, temperature, drift and hold make them, of every board: over all room
 *   temperatures and all powered hours of the run, whether or not a step happens to start then; jitter and stray pulses
 *   are left out. A step of a carry board is a cycle of the board that clocks it.
 * - The last spell of an opening is cut short by closing: `sceneLasts` and `darkSpell` hold it against their upper limits.
 * - A promise about something that does not exist, such as an hour where openings last half an hour, is kept.
 * - `ratings` is kept while no row is over its limit.
 *
 * `known`: what has been worked out of this record already, and need not be again.
 * Values and limits are in the unit of the promise: seconds, houses, scenes, or a share 0 … 1. Throws nothing.
 *
 * @example
 * ```ts
 * import { checkPromises, readScenario, simulate } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const results = checkPromises(simulate(scenario));
 * for (const { promise, kept } of results) console.log(promise, kept); // repeatOnReturn false
 * ```
 */
export function checkPromises(record: SceneRecord, build: Build = NOMINAL, known: Known = {}): PromiseResult[] {
  const evidence = evidenceIn(record, build, known);
  return record.scenario.promises.map((promised) => resultOf(promised, evidence));
}

/** One promise judged, with its words and, where it is broken, its first break. */
function resultOf(promised: Promised, evidence: Evidence): PromiseResult {
  const { kept, value, limit } = judge(promised, evidence);
  return {
    promise: promised.kind,
    text: promiseText(promised),
    value,
    limit,
    unit: unitOf(promised),
    kept,
    where: kept ? null : firstBreak(promised, evidence),
  };
}
