import { bisected } from "../statistics/bisection.js";
import { trackShare } from "../parts/taper.js";
import type { Scenario } from "../model/scenario.js";
import type { Build } from "../timers/build.js";
import { dialAtStep, knobOf, stepAtDial } from "./settings.js";
import type { Seconds } from "../units/time.js";

/** Nothing is marked nearer than this to where a timer stalls: step times have no end there. Share of the knob's travel. */
const BEFORE_STALL = 0.004;

/** What the knob of one board does with nominal parts at the room's mean temperature. */
export interface KnobScale {
  /** Seconds of one step with the knob at a share of its travel, 0 … 1; Infinity where the timer stalls. */
  stepAt(dial: number): number;
  /** Share of the travel at which a step lasts so many seconds, from `least` to `most`. */
  dialAt(seconds: Seconds): number;
  /** Ohms of the trimmer in circuit. */
  ohmsAt(dial: number): number;
  /** Shortest and longest step that can be marked, seconds. */
  readonly least: number;
  readonly most: number;
  /** Share of the travel from which on the timer never clocks; null where it always does. */
  readonly stallsFrom: number | null;
}

/** The scale of board b, which must have a knob and clock at the low end of its travel. */
export function knobScale(scenario: Scenario, b: number): KnobScale {
  const { taper, part } = knobOf(scenario, b)!.trimmer;
  const stepAt = (dial: number): number => stepAtDial(scenario, b, dial);
  const stallsFrom = stallDial(stepAt);
  return {
    stepAt,
    dialAt: (seconds) => dialAtStep(scenario, b, seconds),
    ohmsAt: (dial) => part.value * trackShare(taper, dial),
    least: stepAt(0),
    most: stepAt(stallsFrom === null ? 1 : Math.max(0, stallsFrom - BEFORE_STALL)),
    stallsFrom,
  };
}

/** Share of the travel from which on a build's timer never clocks, 0 where it never does at all; null where it always does. */
export function stallsFromIn(scenario: Scenario, b: number, build: Build): number | null {
  return stallDial((dial) => stepAtDial(scenario, b, dial, build));
}

function stallDial(stepAt: (dial: number) => number): number | null {
  if (Number.isFinite(stepAt(1))) return null;
  if (!Number.isFinite(stepAt(0))) return 0;
  return bisected((dial) => Number.isFinite(stepAt(dial)), 0, 1).next;
}
