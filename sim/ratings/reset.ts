import type { Board } from "../model/scenario.js";
import { startOf } from "../parts/resetinputs.js";
import { HIGH_SHARE, SLOWEST_RAMP } from "../parts/startpulse.js";
import { countsWithChips } from "./drivers.js";
import { atLeast, type Rating } from "./rating.js";

/**
 * Whether the reset at switch-on is sure to be seen: how high its capacitor lifts the reset inputs behind the slowest supply,
 * with parts at their least, against what they need. Nothing for boards without one, and for programmed parts.
 */
export function resetRatings(board: Board, volts: number): Rating[] {
  const start = countsWithChips(board) ? startOf(board, volts) : null;
  if (start === null) return [];
  return [
    atLeast({
      what: "reset at switch-on",
      where: board.id,
      value: start.peak,
      limit: start.needed,
      unit: "V",
      source: `peak behind a supply that rises within ${SLOWEST_RAMP.value} s (${SLOWEST_RAMP.source}); input: ${HIGH_SHARE.source}`,
      advice: "run the counter at a higher voltage, or take a supply that comes up faster",
    }),
  ];
}
