import type { Disorder } from "../engine/simulate.js";
import type { Board, Scenario } from "../model/scenario.js";
import type { Fault } from "./kinds.js";

/** A display that is out of order, as the engine can run it. */
export interface FaultyDisplay {
  readonly scenario: Scenario;
  readonly disorder: Disorder;
}

/** A fault and the displays that have it: several where the fault leaves open where a board wakes, or how far a knob is off. */
export interface PossibleFault extends Fault {
  readonly displays: readonly FaultyDisplay[];
}

/** The scenario with another board in place of board b. */
export function withBoard(scenario: Scenario, b: number, board: Board): Scenario {
  return { ...scenario, boards: scenario.boards.with(b, board) };
}
