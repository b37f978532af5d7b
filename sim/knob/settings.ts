import { dialFor } from "../parts/taper.js";
import type { Board, Scenario } from "../model/scenario.js";
import type { AstableTimer, KnobSetting, Timer, Trimmer } from "../model/timer.js";
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
  return hasKnob(timer) ? timer : null;
}

function hasKnob(timer: Timer): timer is Trimmed {
  return timer.kind === "astable" && timer.trimmer !== null;
}

function setTo(timer: Trimmed, setting: KnobSetting): Trimmed {
  return { ...timer, trimmer: { ...timer.trimmer, setting } };
}

/** Reading error of a stopwatch where a file gives none, since its knob is set by its dial (common practice, no source). */
export const USUAL_READING = 1;

/** The setting of a knob at a step time, with the reading error that the file gives. */
export function settingAt(trimmer: Trimmer, step: Seconds): Extract<KnobSetting, { kind: "step" }> {
  return { kind: "step", step, reading: trimmer.setting.kind === "dial" ? USUAL_READING : trimmer.setting.reading };
}

/** A board set to a step time, as it would be written into the file; null where it has none of its own that can be set. */
export function boardAtStep(board: Board, step: Seconds): Board | null {
  const { timer } = board;
  if (timer.kind === "measured" || timer.kind === "quartz") return { ...board, timer: { ...timer, step } };
  if (!hasKnob(timer)) return null;
  return { ...board, timer: setTo(timer, settingAt(timer.trimmer, step)) };
}

/** A scenario with these boards, by index, set to step times; those that have none of their own stay as they are. */
export function withSteps(scenario: Scenario, steps: ReadonlyMap<number, Seconds>): Scenario {
  const boards = scenario.boards.map((board, b) => {
    const step = steps.get(b);
    return step === undefined ? board : (boardAtStep(board, step) ?? board);
  });
  return { ...scenario, boards };
}

/** Step time of a board with its knob at `dial`, seconds at room temperature `theta`; Infinity where the timer stalls. */
export function stepAtDial(scenario: Scenario, board: number, dial: number, build: Build = NOMINAL, theta = scenario.room.mean): number {
  const { id, timer } = scenario.boards[board]!;
  if (timer.kind === "carry") throw new Error(`board ${id} has no knob`);
  const turned = hasKnob(timer) ? setTo(timer, { kind: "dial", dial }) : timer;
  const works = clockwork(id, turned, scenario.supply.volts, scenario.room, build);
  return works.divide * works.period(theta);
}

/** Where the knob of a board stands, share of its travel, when its nominal parts give a step of so many seconds. */
export function dialAtStep(scenario: Scenario, board: number, seconds: Seconds): number {
  const timer = knobOf(scenario, board)!;
  const set = setTo(timer, { kind: "step", step: seconds, reading: 0 });
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
