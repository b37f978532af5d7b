import type { Scenario } from "../model/scenario.js";
import { outletsOf } from "../parts/joined.js";
import { draw, lampsOf, togetherLamps } from "./lamps.js";

/** Fuses as they are sold, ampere (IEC 60127, from memory). */
const FUSES = [0.1, 0.16, 0.2, 0.25, 0.315, 0.4, 0.5, 0.63, 0.8, 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3] as const;

/** Above the largest current that flows when all is well, so that the fuse does not age (common practice, no source). */
const ROOM = 1.5;

/** What chips of a board take, ampere, at most (common practice, no source). */
const CHIPS = 0.03;

/** The fuse in the plus wire of a board: the next usual one above half as much again as all its lamps and chips take. */
export function fuseAmps(scenario: Scenario, b: number): number {
  const { outputs } = scenario.boards[b]!;
  const houses = [...new Set(outputs.flatMap((loads) => loads.map(({ house }) => house)))];
  const amps = houses.reduce((sum, house) => {
    const sets =
      scenario.houses[house]!.wired === "together"
        ? [togetherLamps(scenario, house)]
        : outletsOf(scenario, house).flatMap(({ board, output }) => (board === b ? [lampsOf(outputs[output]!, house)] : []));
    return sets.reduce((all, lamps) => all + draw(scenario, lamps).amps, sum);
  }, CHIPS);
  return FUSES.find((each) => each >= ROOM * amps) ?? FUSES[FUSES.length - 1]!;
}
