import { TIMER_CHIPS } from "../parts/chips.js";
import { COUNTER_AMPS, outputResistance } from "../parts/counters.js";
import { DARLINGTON_INPUT } from "../parts/drivers.js";
import type { Board } from "../model/scenario.js";

/** Ampere that flow from a counter output, at a supply in volts, into the input of a Darlington channel. */
export function inputAmps(volts: number): number {
  return Math.max(0, volts - DARLINGTON_INPUT.volts.value) / (DARLINGTON_INPUT.ohms.value + outputResistance(volts));
}

/** Ampere that the chips of a board take for themselves, at most; a timer whose chip is not named counts as bipolar. */
export function chipAmps({ timer }: Board): number {
  switch (timer.kind) {
    case "astable":
      return TIMER_CHIPS[timer.chip ?? "bipolar"].ownAmps.value + COUNTER_AMPS.value * (timer.divide > 1 ? 2 : 1);
    case "measured":
    case "quartz":
      return TIMER_CHIPS.bipolar.ownAmps.value + COUNTER_AMPS.value;
    case "carry":
      return COUNTER_AMPS.value;
  }
}
