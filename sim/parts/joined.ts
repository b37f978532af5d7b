import type { Scenario } from "../model/scenario.js";
import { COMMON_PRACTICE, type Figure } from "./figure.js";

/** An output of a board of the display. */
export interface Outlet {
  readonly board: number;
  readonly output: number;
}

/** Volts lost in a diode between lamps and driver: least, for what the lamps get at most, and most. */
export const JOINING_DIODE: { readonly least: Figure; readonly most: Figure } = {
  least: { value: 0.6, source: `silicon diode, about 0.6 V; ${COMMON_PRACTICE}` },
  most: { value: 1.1, source: "1N4001 type, 1.1 V at 1 A at most; from memory" },
};

/** Worked out once for the boards of a scenario, by house: a large display is asked for every one of its houses, often. */
const known = new WeakMap<Scenario["boards"], ReadonlyMap<number, readonly Outlet[]>>();

/** All outputs that name a house, board by board. */
export function outletsOf({ boards }: Pick<Scenario, "boards">, house: number): readonly Outlet[] {
  let found = known.get(boards);
  if (found === undefined) {
    found = allOutlets(boards);
    known.set(boards, found);
  }
  return found.get(house) ?? [];
}

function allOutlets(boards: Scenario["boards"]): Map<number, Outlet[]> {
  const found = new Map<number, Outlet[]>();
  for (const [board, { outputs }] of boards.entries()) {
    for (const [output, loads] of outputs.entries()) {
      for (const house of new Set(loads.map((load) => load.house))) {
        const outlets = found.get(house);
        if (outlets === undefined) found.set(house, [{ board, output }]);
        else outlets.push({ board, output });
      }
    }
  }
  return found;
}

/**
 * Whether an output reaches the lamps of a house through a diode. It has to where these lamps are switched by other outputs
 * too and this output switches something else besides: joined without diodes, one output would light what the other does.
 */
export function needsDiode(scenario: Pick<Scenario, "boards" | "houses">, { board, output }: Outlet, house: number): boolean {
  if (scenario.houses[house]!.wired === "apart") return false;
  const own = setOf(scenario, house);
  if (own.size < 2) return false;
  return scenario.boards[board]!.outputs[output]!.some(
    (load) => load.house !== house && (scenario.houses[load.house]!.wired === "apart" || !equal(setOf(scenario, load.house), own)),
  );
}

/** Whether every output that switches a house does so through a diode, so that its lamps never get all the volts. */
export function alwaysThroughDiode(scenario: Pick<Scenario, "boards" | "houses">, house: number): boolean {
  return outletsOf(scenario, house).every((outlet) => needsDiode(scenario, outlet, house));
}

const setOf = (scenario: Pick<Scenario, "boards">, house: number): Set<string> =>
  new Set(outletsOf(scenario, house).map(({ board, output }) => `${board} ${output}`));

const equal = (a: ReadonlySet<string>, b: ReadonlySet<string>): boolean => a.size === b.size && [...a].every((each) => b.has(each));
