import type { Scenario } from "../model/scenario.js";
import type { Build } from "../timers/build.js";
import type { OpenHours } from "./calendar.js";
import type { Scenes } from "./sceneset.js";
import type { Micros } from "../units/time.js";

/** One opening in a record; its spells are those numbered first … end − 1. */
export interface OpeningRecord extends OpenHours {
  readonly first: number;
  readonly end: number;
}

/**
 * What a display showed: for each opening its spells, each a longest stretch of open time with one scene. A spell
 * ends where the next of the same opening starts, or at closing. Times are microseconds since Monday 00:00.
 */
export interface SceneRecord {
  readonly scenario: Scenario;
  /** The part values with which it was simulated. */
  readonly build: Build;
  readonly openings: readonly OpeningRecord[];
  readonly spellStart: Float64Array;
  readonly spellScene: Int32Array;
  /** The houses lit in each scene; scenes are numbered in order of first appearance. */
  readonly scenes: Scenes;
  /** Clock pulses of each board while powered, in board order. */
  readonly boards: readonly { readonly id: string; readonly pulses: number }[];
  /** Every move of every counter, when asked for. */
  readonly trace: Trace | null;
}

/** Moves of the counters in order of time: at `time[i]` board `board[i]` goes to step `step[i]`; −1: power off. */
export interface Trace {
  readonly time: Float64Array;
  readonly board: Int32Array;
  readonly step: Int32Array;
}

/**
 * Calls `visit` for every spell in order, with its scene, start and end and the number of its opening.
 * Microseconds since Monday 00:00; openings are counted from 0. Throws nothing of its own.
 *
 * @example
 * ```ts
 * import { eachSpell, readScenario, simulate } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const record = simulate(scenario);
 * const { from, until } = record.openings[0]!;
 * let shown = 0;
 * eachSpell(record, (scene, start, end, opening) => {
 *   if (opening === 0) shown += end - start;
 * });
 * console.log(shown === until - from); // true
 * ```
 */
export function eachSpell(
  record: SceneRecord,
  visit: (scene: number, start: Micros, end: Micros, opening: number) => void,
): void {
  record.openings.forEach((opening, index) => {
    for (let i = opening.first; i < opening.end; i++) {
      const end = i + 1 < opening.end ? record.spellStart[i + 1]! : opening.until;
      visit(record.spellScene[i]!, record.spellStart[i]!, end, index);
    }
  });
}
