import { knobOf, nominalReach } from "../../sim/knob/settings.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { boardTimes } from "../../sim/timers/boardtimes.js";

/** Step times that can be tried on a board, seconds: from `least` to `most`, multiples of `grain`. */
export interface StepSlider {
  readonly least: number;
  readonly most: number;
  readonly grain: number;
  /** The step time that the scenario gives. */
  readonly now: number;
}

/** A timer without a knob is tried up to so many times as fast or slow. */
const FACTOR = 4;
const GRAINS = [1, 0.1, 0.01, 0.001];

/**
 * What can be tried on board b: what its knob reaches with nominal parts, or some way up and down from a step time that is
 * given as such. Null for a board that has neither.
 */
export function stepSlider(scenario: Scenario, b: number): StepSlider | null {
  const { timer } = scenario.boards[b]!;
  const now = boardTimes(scenario)[b]!.stepSeconds;
  const free = timer.kind === "measured" || timer.kind === "quartz";
  if (!free && knobOf(scenario, b) === null) return null;
  const { from, to } = free ? { from: now / FACTOR, to: now * FACTOR } : nominalReach(scenario, b);
  const grain = GRAINS.find((one) => to - from >= 40 * one && (!free || isMultiple(now, one))) ?? GRAINS.at(-1)!;
  return { least: rounded(Math.ceil(from / grain - 1e-9), grain), most: rounded(Math.floor(to / grain + 1e-9), grain), grain, now };
}

/** The step time nearest to this one that can be tried. */
export function nearestStep({ least, most, grain }: StepSlider, seconds: number): number {
  return Math.min(most, Math.max(least, rounded(Math.round(seconds / grain), grain)));
}

function isMultiple(seconds: number, grain: number): boolean {
  return Math.abs(seconds / grain - Math.round(seconds / grain)) < 1e-6;
}

/** So many grains, as a decimal fraction that reads back as itself. */
function rounded(grains: number, grain: number): number {
  return Number((grains * grain).toFixed(3));
}
