import type { SceneRecord } from "../engine/record.js";
import type { Scenario } from "../model/scenario.js";
import { demandOf, utmostDemand, type Demand } from "./demand.js";
import { counterRatings, driverRatings } from "./drivers.js";
import { lampRatings, resistorRatings } from "./lamps.js";
import type { Rating } from "./rating.js";
import { resetRatings } from "./reset.js";
import { supplyRatings } from "./supply.js";
import { timerRatings } from "./timers.js";

export { leakageBudget, leakageNotes } from "./leakage.js";
export type { Note } from "./note.js";
export { ratingNotes } from "./notes.js";
export { LARGEST_SHARE, verdictOf, type Rating, type RatingVerdict } from "./rating.js";

/**
 * Everything in a scenario that has a limit, with how much of it is used; the record is that of the nominal build, with
 * its trace (throws without one). Board by board: driver channels and packages, counter, lamps; then timers and supply.
 * Each row says its unit.
 *
 * @example
 * ```ts
 * import { ratings, readScenario, simulate } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const rows = ratings(scenario, simulate(scenario, { trace: true }));
 * console.log(rows.filter(({ verdict }) => verdict === "over").length); // 0
 * ```
 */
export function ratings(scenario: Scenario, record: SceneRecord): Rating[] {
  return ratingsUnder(scenario, demandOf(record));
}

/**
 * True where no rating can be over its limit in any build: not even with every step reached and all boards asking their
 * most at once. Parts deviate in time, not in current, so that no build needs to be looked at then.
 */
export function ratingsHoldAnyway(scenario: Scenario): boolean {
  return ratingsUnder(scenario, utmostDemand(scenario)).every(({ verdict }) => verdict !== "over");
}

function ratingsUnder(scenario: Scenario, demand: Demand): Rating[] {
  const { room, supply } = scenario;
  return [
    ...scenario.boards.flatMap((board, b) => [
      ...driverRatings(board, b, demand, room, scenario.lamps),
      ...counterRatings(board, b, demand, supply),
      ...resetRatings(board, supply.volts),
      ...lampRatings(board, b, demand, scenario),
      ...resistorRatings(board, scenario),
    ]),
    ...timerRatings(scenario),
    ...supplyRatings(scenario, demand),
  ];
}
