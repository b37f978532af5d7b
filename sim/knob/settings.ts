import { dialFor } from "../parts/taper.js";
import type { AstableTimer, KnobSetting, Scenario, Trimmer } from "../model/scenario.js";
import { builds } from "../builds/draw.js";
import { NOMINAL, type Build } from "../timers/build.js";
import { clockwork } from "../timers/clockwork.js";
import type { Seconds } from "../units/time.js";

/** Shortest and longest step, seconds. */
export interface StepRange {
  readonly from: number;
  readonly to: number;
}

type Trimmed = AstableTimer & { readonly trimmer: Trimmer };

/** The timer of a board, where it has a knob; else null. */
export function knobOf(scenario: Scenario, board: number): Trimmed | null {
  const { timer } = scenario.boards[board]!;
  return timer.kind === "astable" && timer.trimmer !== null ? (timer as Trimmed) : null;
}

/** The scenario with the knobs of some boards, by index, set anew. */
export function withSettings(scenario: Scenario, settings: ReadonlyMap<number, KnobSetting>): Scenario {
  const boards = scenario.boards.map((board, b) => {
    const setting = settings.get(b);
    const timer = knobOf(scenario, b);
    return setting === undefined || timer === null ? board : { ...board, timer: { ...timer, trimmer: { ...timer.trimmer, setting } } };
  });
  return { ...scenario, boards };
}

/** Step time of a board with its knob at `dial`, seconds at room temperature `theta`; Infinity where the timer stalls. */
export function stepAtDial(scenario: Scenario, board: number, dial: number, build: Build = NOMINAL, theta = scenario.room.mean): number {
  const turned = withSettings(scenario, new Map([[board, { kind: "dial", dial }]])).boards[board]!;
  if (turned.timer.kind === "carry") throw new Error(`board ${turned.id} has no knob`);
  const works = clockwork(turned.id, turned.timer, scenario.supply.volts, scenario.room, build);
  return works.divide * works.period(theta);
}

/** Where the knob of a board stands, share of its travel, when its nominal parts give a step of so many seconds. */
export function dialAtStep(scenario: Scenario, board: number, seconds: Seconds): number {
  const timer = knobOf(scenario, board)!;
  const set = withSettings(scenario, new Map([[board, { kind: "step", step: seconds, reading: 0 }]])).boards[board]!.timer as Trimmed;
  const { trimmerOhms } = clockwork(scenario.boards[board]!.id, set, scenario.supply.volts, scenario.room, NOMINAL);
  return dialFor(timer.trimmer.taper, trimmerOhms! / timer.trimmer.part.value);
}

/** Step times that the knob reaches with nominal parts. */
export function nominalReach(scenario: Scenario, board: number): StepRange {
  let dial = 100;
  // with leakage the timer may stall before the end of the track
  while (dial > 0 && !Number.isFinite(stepAtDial(scenario, board, dial / 100))) dial--;
  return { from: stepAtDial(scenario, board, 0), to: stepAtDial(scenario, board, dial / 100) };
}

/** Builds that tell what a knob usually reaches, and the share of them that may fail to reach either end. */
const DRAWN = 200;
const FAILING = 0.01;

/** Step times that the knob reaches in 99 builds of 100, counted for either end by itself; null where there are none. */
export function usualReach(scenario: Scenario, board: number): StepRange | null {
  const draw = builds(scenario);
  const drawn = Array.from({ length: DRAWN }, (_, i) => draw(i + 1));
  const ends = (dial: number): number[] => drawn.map((build) => stepAtDial(scenario, board, dial, build)).sort((a, b) => a - b);
  const from = ends(0)[Math.ceil(DRAWN * (1 - FAILING)) - 1]!;
  const to = ends(1)[Math.floor(DRAWN * FAILING)]!;
  return from < to && Number.isFinite(to) ? { from, to } : null;
}
