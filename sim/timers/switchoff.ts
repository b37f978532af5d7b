import type { Board, Scenario } from "../model/scenario.js";
import { highTime, lowTime, firstHighTime } from "./astable.js";
import { clockwork } from "./clockwork.js";
import { NOMINAL } from "./build.js";

/** The first step may be shorter by this share than after a long time without power. */
const SHORTENED = 0.02;

/** Seconds that a supply's own capacitors and a reset need to run empty; enough where a diode empties the timer's. */
const LEAST = 10;

/** Times that people say, seconds; above the last, whole quarters of an hour. */
const SAYABLE = [10, 15, 20, 30, 45, 60, 90, 120, 180, 240, 300, 360, 420, 480, 540, 600, 720, 900] as const;

/**
 * Seconds for which board b has to be off before the times of its first step count again: until that step is within
 * 2 % of the one from an empty capacitor, rounded up to something that people say. With nominal parts and the room at its
 * mean; the capacitor is taken to be at two thirds of the supply, the most it can hold, and to empty through R1 alone:
 * 2V/3 · e^(−t/R1C). Ten seconds where a diode empties it, and for boards without a capacitor of their own to wait for.
 */
export function offSeconds(scenario: Scenario, b: number): number {
  return sayable(Math.max(LEAST, emptying(scenario, scenario.boards[b]!)));
}

/** Seconds for which the display has to be off: those of the board that needs longest. */
export function displayOffSeconds(scenario: Scenario): number {
  return Math.max(LEAST, ...scenario.boards.map((_, b) => offSeconds(scenario, b)));
}

function emptying(scenario: Scenario, board: Board): number {
  const { timer } = board;
  switch (timer.kind) {
    case "carry":
      return emptying(scenario, scenario.boards[timer.from]!);
    case "measured":
    case "quartz":
      return 0;
    case "astable": {
      if (timer.discharge === "diode") return 0;
      const { volts } = scenario.supply;
      const works = clockwork(board.id, timer, volts, scenario.room, NOMINAL);
      const { r1, r2, farads, amps } = works.circuit!(scenario.room.mean);
      const low = lowTime(volts, r2, farads, amps);
      const periods = (timer.divide - 1) * (highTime(volts, r1, farads, amps) + low);
      const empty = firstHighTime(volts, r1, farads, amps) + (timer.divide > 1 ? periods : low);
      const final = volts - amps * r1;
      // from v the first high time is R1·C·ln((V∞ − v)/(V∞ − 2V/3)), so that v takes R1·C·ln(V∞/(V∞ − v)) from it
      const allowed = final * -Math.expm1((-SHORTENED * empty) / (r1 * farads));
      return allowed > 0 ? Math.max(0, r1 * farads * Math.log((2 * volts) / 3 / allowed)) : Infinity;
    }
  }
}

/** The next time that people say, seconds. */
function sayable(seconds: number): number {
  const quarter = 900;
  return SAYABLE.find((each) => each >= seconds) ?? Math.ceil(seconds / quarter) * quarter;
}
