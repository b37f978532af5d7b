import { looseParts } from "../builds/parts.js";
import type { Scenario } from "../model/scenario.js";
import type { Build } from "../timers/build.js";

/**
 * Every combination of the limits that the parts of one board may be at. Step times rise or fall with each part, so
 * their extremes are here.
 */
export function cornersOf(scenario: Scenario, board: number): Build[] {
  const keys = looseParts(scenario).filter((part) => part.board === board).map(({ key }) => key);
  return Array.from({ length: 2 ** keys.length }, (_, corner) => ({
    number: 0,
    deviations: new Map(keys.map((key, i) => [key, (corner >> i) & 1 ? 1 : -1])),
  }));
}
