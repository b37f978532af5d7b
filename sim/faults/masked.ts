import type { Scenario } from "../model/scenario.js";
import { listing } from "./names.js";
import { outletsOf } from "../parts/joined.js";
import { houseName } from "../model/housename.js";

/**
 * A sentence for each of these houses, with a blank before it, on what else lights it and so hides that these outputs of
 * board b do not; "" if nothing does.
 */
export function otherLights(scenario: Scenario, dark: readonly number[], b: number, dead: readonly number[]): string {
  const each = dark.flatMap((house) => {
    const outlets = outletsOf(scenario, house).filter(({ board, output }) => board !== b || !dead.includes(output));
    const others = [...new Set(outlets.map(({ board }) => board))].map((board) => {
      const numbers = outlets.flatMap((outlet) => (outlet.board === board ? [String(outlet.output)] : []));
      return `${numbers.length === 1 ? "output" : "outputs"} ${listing(numbers)} ${board === b ? "of the same board" : `of board ${scenario.boards[board]!.id}`}`;
    });
    return others.length === 0 ? [] : [`${houseName(scenario, house)} is lit by ${listing(others)} too`];
  });
  return each.length === 0 ? "" : ` Other lights can hide it: ${each.join("; ")}.`;
}
