import { holds } from "../counters/sequence.js";
import type { Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";

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

/** Worked out once for a scenario: every look that is weighed up asks for it. */
const boardsOf = new WeakMap<Scenario, readonly (readonly number[])[]>();

/** The boards that light a house. */
export function lightedBy(scenario: Scenario, house: number): readonly number[] {
  const known = boardsOf.get(scenario);
  if (known !== undefined) return known[house]!;
  const found = scenario.houses.map((): number[] => []);
  for (const [b, { outputs }] of scenario.boards.entries()) {
    for (const lit of new Set(outputs.flatMap((loads) => loads.map((load) => load.house)))) found[lit]!.push(b);
  }
  boardsOf.set(scenario, found);
  return found[house]!;
}

/** Steps that are shorter than this, in seconds, nobody follows with a watch. */
const LEAST_STEP = 20;

/** The boards whose moments one cannot foretell, or not follow with a watch: what they do shows in a whole round. */
export function timelessBoards(scenario: Scenario): Set<number> {
  const steps = boardTimes(scenario).map(({ stepSeconds }, b) => {
    const { counter } = scenario.boards[b]!;
    return stepSeconds * holds(counter).least;
  });
  return new Set([...scenario.boards.keys()].filter((b) => isUnsteady(scenario, b) || steps[b]! < LEAST_STEP));
}

const housesOfTimeless = new WeakMap<ReadonlySet<number>, ReadonlySet<number>>();

/** The houses that such boards light. */
export function timelessHouses({ scenario, timeless }: { readonly scenario: Scenario; readonly timeless: ReadonlySet<number> }): ReadonlySet<number> {
  const known = housesOfTimeless.get(timeless);
  if (known !== undefined) return known;
  const found = new Set([...scenario.houses.keys()].filter((house) => lightedBy(scenario, house).some((b) => timeless.has(b))));
  housesOfTimeless.set(timeless, found);
  return found;
}

const houseAlone = new WeakMap<Scenario, readonly (readonly number[])[]>();

/** For each board the houses that it lights and no other. */
function unshared(scenario: Scenario): readonly (readonly number[])[] {
  const known = houseAlone.get(scenario);
  if (known !== undefined) return known;
  const found = scenario.boards.map((): number[] => []);
  for (const house of scenario.houses.keys()) {
    const [board, ...others] = lightedBy(scenario, house);
    if (board !== undefined && others.length === 0) found[board]!.push(house);
  }
  houseAlone.set(scenario, found);
  return found;
}

/**
 * Other houses by whose light one can look at a house: those that the same board lights and no other, if no other board
 * lights the house itself. So they keep step with it wherever the board wakes.
 */
export function companions(scenario: Scenario, house: number): number[] {
  const [board, ...others] = lightedBy(scenario, house);
  if (board === undefined || others.length > 0) return [];
  return unshared(scenario)[board]!.filter((other) => other !== house);
}
