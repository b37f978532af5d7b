import type { Board, Counter } from "../model/scenario.js";
import { JOHNSON_MOST } from "./selfstart.js";
import { PULL_DOWN, startPulse, type StartPulse } from "./startpulse.js";

/** Steps that the first, and any further, decade counter of a cascade adds (National CD4017B, "cascading packages"). */
export const FIRST_OF_RING = 9;
export const FURTHER_OF_RING = 8;
const RING_CHIPS_MOST = 8;
/** The longest ring that is built from decade counters. */
export const CASCADE_MOST = FIRST_OF_RING + (RING_CHIPS_MOST - 1) * FURTHER_OF_RING;

/** Outputs that the dividers of the catalogue have between them, each dividing by twice as much as the one before. */
const DIVIDER_OUTPUTS = 14;

/** Stages that one half of a 4015 or 4520 has, each half with a reset input of its own. */
const HALF = 4;

/** Reset inputs of a counter built from the catalogue, and whether one of its outputs resets it too; null for a programmed one. */
function resetInputs(counter: Counter): { inputs: number; round: boolean } | null {
  switch (counter.kind) {
    case "ring":
      return counter.steps > CASCADE_MOST ? null : { inputs: 1, round: counter.steps !== 10 };
    case "johnson":
      return counter.stages > JOHNSON_MOST ? null : { inputs: Math.ceil(counter.stages / HALF), round: false };
    case "lfsr":
    case "binary":
      return { inputs: Math.ceil(counter.bits / HALF), round: false };
    case "table":
    case "shuffle":
      return null;
  }
}

/** The reset of a board at switch-on, behind the slowest supply; null where nothing on it is reset. */
export function startOf({ timer, counter }: Pick<Board, "timer" | "counter">, volts: number): StartPulse | null {
  const divider = timer.kind === "astable" && isCatalogued(timer.divide) ? 1 : 0;
  const own = counter.powerUp === "reset" ? resetInputs(counter) : null;
  // behind a diode where an output starts the round again by the same input
  const alone = own?.round === true ? own.inputs : 0;
  const pulsed = divider + (own?.round === false ? own.inputs : 0);
  if (pulsed + alone === 0) return null;
  return startPulse(volts, Array.from({ length: Math.max(1, pulsed) + alone }, () => PULL_DOWN.value), alone > 0);
}

/** Whether a divider of the 4020, 4040 or 4060 types divides by this. */
function isCatalogued(ratio: number): boolean {
  const output = Math.log2(ratio);
  return Number.isInteger(output) && output >= 1 && output <= DIVIDER_OUTPUTS;
}
