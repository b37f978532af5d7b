import type { BoardWiring } from "../engine/wiring.js";
import type { Board, Scenario } from "../model/scenario.js";
import type { Timer } from "../model/timer.js";
import { TIMER_CHIPS } from "../parts/chips.js";
import { dialFor } from "../parts/taper.js";
import { NOMINAL } from "../timers/build.js";
import { clockwork } from "../timers/clockwork.js";
import { boardTimes } from "../timers/boardtimes.js";
import { NOTICED } from "./pace.js";
import { withBoard, type FaultyDisplay, type PossibleFault } from "./planted.js";
import { standing, standingAt } from "./standstill.js";

/** How much of the way from the leakage it has to the one that stops the timer a leaky capacitor has gone. */
const LEAKS = [0.3, 0.5, 0.7];
/** What is left of an aged capacitor. */
const LEFT = [0.8, 0.5, 0.2];
/** By how much a leaky capacitor lengthens the steps of a board that was timed with a stopwatch, whose parts nobody knows. */
const LENGTHENED = [1.2, 1.5, 2];

/**
 * What the timing capacitor of board b does when it goes bad: it leaks, so that steps become longer until the timer
 * stands still; or it dries out and has lost capacitance, so that they become shorter.
 */
export function capacitorFaults(scenario: Scenario, wiring: readonly BoardWiring[], b: number): PossibleFault[] {
  const board = scenario.boards[b]!;
  const { timer, id } = board;
  if (timer.kind !== "astable" && timer.kind !== "measured") return [];
  const planned = boardTimes(scenario)[b]!.stepSeconds;
  const slow = leaking(scenario, board).map((worse): FaultyDisplay => ({ scenario: withBoard(scenario, b, { ...board, timer: worse }), disorder: {} }));
  const noticed = slow.filter(({ scenario: worse }) => boardTimes(worse)[b]!.stepSeconds > planned * (1 + NOTICED));
  const fault = { kind: "cap-leaky", where: "timing capacitor", spot: { part: "capacitor" } } as const;
  const text =
    `The timing capacitor of board ${id} leaks: the first step after switch-on and all others last longer, ` +
    "day by day more, until in the end the board stands still.";
  const still = standing(scenario, wiring, b, [{ ...fault, text }], standingAt(scenario, wiring, b)).flatMap(({ displays }) => displays);
  const aged = LEFT.map((share): FaultyDisplay => ({ scenario: withBoard(scenario, b, { ...board, timer: dried(scenario, board, share) }), disorder: {} }));
  return [
    { ...fault, board: id, text, displays: [...noticed, ...still] },
    {
      kind: "cap-aged",
      board: id,
      where: "timing capacitor",
      text: `The timing capacitor of board ${id} has lost capacitance with age: all steps are shorter.`,
      spot: { part: "capacitor" },
      displays: aged,
    },
  ];
}

/** The timer with a capacitor that leaks more and more. */
function leaking(scenario: Scenario, board: Board): Timer[] {
  const { timer } = board;
  if (timer.kind === "measured") return LENGTHENED.map((times) => ({ ...timer, step: timer.step * times }));
  if (timer.kind !== "astable") return [];
  const fixed = knobAsItStands(scenario, board);
  const { r1, amps } = clockwork(board.id, timer, scenario.supply.volts, scenario.room, NOMINAL).circuit!(scenario.room.mean);
  const threshold = timer.chip === null ? 0 : TIMER_CHIPS[timer.chip].threshold;
  // the timer stops when the current through R1 takes a third of the supply
  const stops = scenario.supply.volts / 3 / r1;
  return LEAKS.map((share) => ({ ...fixed, leakage: { typical: amps + share * (stops - amps) - threshold, limit: null, given: true } }));
}

/** The timer with a share of its capacitance. */
function dried(scenario: Scenario, board: Board, share: number): Timer {
  const { timer } = board;
  if (timer.kind === "measured") return { ...timer, step: timer.step * share };
  if (timer.kind !== "astable") return timer;
  return { ...knobAsItStands(scenario, board), c: { ...timer.c, value: timer.c.value * share } };
}

/** An RC timer whose knob nobody turns again: it stays where a stopwatch set it while the parts were good. */
function knobAsItStands(scenario: Scenario, board: Board): Extract<Timer, { kind: "astable" }> {
  const { timer } = board;
  if (timer.kind !== "astable") throw new Error(`board ${board.id} has no RC timer`);
  const { trimmer } = timer;
  if (trimmer === null || trimmer.setting.kind === "dial") return timer;
  const { trimmerOhms } = clockwork(board.id, timer, scenario.supply.volts, scenario.room, NOMINAL);
  const dial = dialFor(trimmer.taper, trimmerOhms! / trimmer.part.value);
  return { ...timer, trimmer: { ...trimmer, setting: { kind: "dial", dial } } };
}
