import type { BoardWiring } from "../engine/wiring.js";
import { driverPackages } from "../parts/packages.js";
import type { Scenario } from "../model/scenario.js";
import { driverName, listing } from "./names.js";
import { rewired } from "./outputs.js";
import { standing, type StandingFault } from "./standstill.js";
import type { PossibleFault } from "./planted.js";

/** The wires from minus to each driver package of board b: without it none of its channels lights anything. */
export function driverMinusWires(scenario: Scenario, b: number): PossibleFault[] {
  const board = scenario.boards[b]!;
  return driverPackages(board).map((outputs, place) => {
    const driver = driverName(board, place);
    const range = outputs.length === 1 ? `output ${outputs[0]!}` : `outputs ${listing(outputs.map(String))}`;
    return {
      kind: "wire-open",
      board: board.id,
      where: `minus of ${driver}`,
      text: `The minus wire of ${driver} of board ${board.id} is off: nothing on ${range} lights.`,
      spot: { part: "driver minus wire", place },
      displays: [rewired(scenario, b, (_, output) => !outputs.includes(output))],
    };
  });
}

/** What takes the supply from board b. */
export function noBoardSupply(scenario: Scenario, wiring: readonly BoardWiring[], b: number): PossibleFault[] {
  const { id } = scenario.boards[b]!;
  const dark = "so that it has no supply: all it lights is dark.";
  const faults: readonly StandingFault[] = [
    { kind: "wire-open", where: "plus of the board", text: `The plus wire of board ${id} is off, ${dark}`, spot: { part: "plus wire" } },
    { kind: "wire-open", where: "minus of the board", text: `The minus wire of board ${id} is off, ${dark}`, spot: { part: "minus wire" } },
    { kind: "no-supply", where: "supply", text: `Board ${id} has no supply: all it lights is dark.`, spot: { part: "supply" } },
  ];
  return standing(scenario, wiring, b, faults, [[]]);
}
