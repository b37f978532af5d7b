import type { FaultTable } from "./groups.js";
import { listing } from "./names.js";
import { houseName } from "../model/housename.js";
import { tellingHouses, type Observation } from "./observations.js";
import { isUnsteady, lightedBy } from "./unsteady.js";

/**
 * What was seen that may be chance: the simulation takes one of the ways in which an unsteady board can wake, so that it
 * vouches for what such a board shows in a whole round, not for single moments or less than a round.
 */
export function cautions({ scenario, rounds }: FaultTable, observations: readonly Observation[]): string[] {
  return scenario.boards.flatMap(({ id }, b) => {
    if (!isUnsteady(scenario, b)) return [];
    const houses = new Set(
      observations.flatMap((seen) => {
        const whole = seen.kind !== "times" && "until" in seen && seen.until >= rounds[b]!;
        const about = "board" in seen ? tellingHouses(scenario, seen.board) : [seen.house];
        return whole ? [] : about.filter((house) => lightedBy(scenario, house).includes(b));
      }),
    );
    if (houses.size === 0) return [];
    const names = listing([...houses].map((house) => houseName(scenario, house)));
    return [
      `Board ${id} wakes anywhere or moves at random: what was seen of ${names} in less than a whole round may be chance, and is ` +
        "compared with one way only in which it can go.",
    ];
  });
}
