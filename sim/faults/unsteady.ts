import type { Scenario } from "../scenario/model.js";
import { boardTimes } from "../timers/nominal.js";
import type { FaultTable } from "./groups.js";
import { houseName, listing } from "./names.js";
import { tellingHouses, type Observation } from "./observations.js";

/** Whether nobody knows beforehand at which step board b stands when: it wakes anywhere, or moves at random. */
export function isUnsteady(scenario: Scenario, b: number): boolean {
  const { counter, timer } = scenario.boards[b]!;
  const own = counter.powerUp === "anywhere" || movesAtRandom(scenario, b);
  return own || (timer.kind === "carry" && isUnsteady(scenario, timer.from));
}

/** Whether chance decides how long board b is where, so that what it does in one opening it may not do in another. */
export function movesAtRandom(scenario: Scenario, b: number): boolean {
  const { counter, timer } = scenario.boards[b]!;
  const own = counter.kind === "shuffle" || scenario.supply.glitches > 0;
  return own || (timer.kind === "carry" && movesAtRandom(scenario, timer.from));
}

/** The boards that light a house. */
export function lightedBy({ boards }: Scenario, house: number): number[] {
  return boards.flatMap(({ outputs }, b) => (outputs.some((loads) => loads.some((load) => load.house === house)) ? [b] : []));
}

/** Steps that are shorter than this, in seconds, nobody follows with a watch. */
const LEAST_STEP = 20;

/** The boards whose moments one cannot foretell, or not follow with a watch: what they do shows in a whole round. */
export function timelessBoards(scenario: Scenario): Set<number> {
  const steps = boardTimes(scenario).map(({ stepSeconds }, b) => {
    const { counter } = scenario.boards[b]!;
    return stepSeconds * (counter.kind === "table" ? Math.min(...counter.hold) : 1);
  });
  return new Set([...scenario.boards.keys()].filter((b) => isUnsteady(scenario, b) || steps[b]! < LEAST_STEP));
}

/** The houses that such boards light. */
export function timelessHouses({ scenario, timeless }: FaultTable): Set<number> {
  return new Set([...scenario.houses.keys()].filter((house) => lightedBy(scenario, house).some((b) => timeless.has(b))));
}

/**
 * Other houses by whose light one can look at a house: those that the same board lights and no other, if no other board
 * lights the house itself. So they keep step with it wherever the board wakes.
 */
export function companions(scenario: Scenario, house: number): number[] {
  const [board, ...others] = lightedBy(scenario, house);
  if (board === undefined || others.length > 0) return [];
  return [...scenario.houses.keys()].filter((other) => other !== house && lightedBy(scenario, other).join() === String(board));
}

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
      `Board ${id} wakes anywhere or moves at random: what was seen of ${names} in less than a whole round may be chance, and is compared with one way only in which it can go.`,
    ];
  });
}
