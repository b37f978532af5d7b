import type { BoardWiring } from "../engine/wiring.js";
import { DECADE_COUNTER } from "../parts/counters.js";
import type { Scenario } from "../model/scenario.js";
import type { Fault } from "./kinds.js";
import { withBoard, type PossibleFault } from "./planted.js";

/** Patterns up to which every step where a board may wake is tried when its clock is missing. */
export const WAKE_LIMIT = 64;
/** Steps of the ring counter chip, which is cut short for rings of fewer steps. */
const DECADE = DECADE_COUNTER.outputs.length;

export type StandingFault = Omit<Fault, "board">;

/** Faults with which board b never moves, and stands at one of these sets of houses. */
export function standing(
  scenario: Scenario,
  wiring: readonly BoardWiring[],
  b: number,
  faults: readonly StandingFault[],
  lit: readonly (readonly number[])[],
): PossibleFault[] {
  const own = wiring[b]!;
  const displays = lit.map((houses) => ({
    scenario,
    disorder: { wiring: wiring.with(b, { ...own, patterns: own.patterns.map(() => houses) }), still: new Set([b]) },
  }));
  return faults.map((fault) => ({ ...fault, board: scenario.boards[b]!.id, displays }));
}

/** The sets of houses at which board b may stand when its counter never moves. */
export function standingAt({ boards }: Scenario, wiring: readonly BoardWiring[], b: number): readonly (readonly number[])[] {
  const { patterns, patternAt } = wiring[b]!;
  return boards[b]!.counter.powerUp === "anywhere" ? patterns.slice(0, WAKE_LIMIT) : [patterns[patternAt[0]!]!];
}

/** Faults with which the counter of board b does not move. */
export function standstills(scenario: Scenario, wiring: readonly BoardWiring[], b: number): PossibleFault[] {
  const { id, counter, timer } = scenario.boards[b]!;
  const { patterns, patternAt } = wiring[b]!;
  const first = patterns[patternAt[0]!]!;
  const anywhere = counter.powerUp === "anywhere";
  const untried = anywhere && patterns.length > WAKE_LIMIT ? ` It may wake at other steps, too, than the ${WAKE_LIMIT} that ` +
    "are tried." : "";
  const stays = anywhere ? `it stays at the step where it wakes, each time another.${untried}` : "it stays at its first step.";
  const source = timer.kind === "carry" ? `board ${scenario.boards[timer.from]!.id}` : "the timer";
  const clock = timer.kind === "carry" ? "its counter does not take them, or the other gives none" : "the timer does not run";
  return [
    ...standing(
      scenario,
      wiring,
      b,
      [
        {
          kind: "wire-open",
          where: "clock wire",
          text: `The clock wire from ${source} to the counter of board ${id} is off: ${stays}`,
          spot: { part: "clock wire" },
        },
        { kind: "no-clock", where: "clock", text: `Board ${id} gets no clock pulses, as ${clock}: ${stays}`, spot: { part: "clock" } },
      ],
      standingAt(scenario, wiring, b),
    ),
    ...standing(
      scenario,
      wiring,
      b,
      [{ kind: "held-in-reset", where: "reset", text: `The counter of board ${id} is held in reset: it stays at its ` +
        "first step.", spot: { part: "reset" } }],
      [first],
    ),
  ];
}

/**
 * The wire that cuts a ring counter short: from the output behind the last one that is used, to reset (4017 type). Without
 * it the counter runs on through all its ten steps. Nothing for counters that have no such wire.
 */
export function resetWire(scenario: Scenario, b: number): PossibleFault[] {
  const board = scenario.boards[b]!;
  const { counter } = board;
  if (counter.kind !== "ring" || counter.steps >= DECADE) return [];
  const more = DECADE - counter.steps;
  return [
    {
      kind: "wire-open",
      board: board.id,
      where: "reset wire",
      text:
        `The wire from counter output ${counter.steps} of board ${board.id} to reset is off: the counter does not start again after ` +
        `${counter.steps} steps, but goes on for ${more === 1 ? "one dark step" : `${more} dark steps`}.`,
      spot: { part: "reset wire" },
      displays: [{ scenario: withBoard(scenario, b, { ...board, counter: { ...counter, steps: DECADE } }), disorder: {} }],
    },
  ];
}
