import type { SceneRecord } from "../engine/record.js";
import type { Scenario } from "../model/scenario.js";
import { demandOf } from "./demand.js";
import { counterRatings, driverRatings } from "./drivers.js";
import { lampRatings } from "./lamps.js";
import type { Rating } from "./rating.js";
import { supplyRatings } from "./supply.js";
import { timerRatings } from "./timers.js";

export { leakageBudget, leakageNotes } from "./leakage.js";
export type { Note } from "./note.js";
export { ratingNotes } from "./notes.js";
export { LARGEST_SHARE, verdictOf, type Rating } from "./rating.js";

/**
 * Everything in a scenario that has a limit, with how much of it is used; the record is that of the nominal build, with
 * its trace (throws without one). Board by board: driver channels and packages, counter, lamps; then timers and supply.
 */
export function ratings(scenario: Scenario, record: SceneRecord): Rating[] {
  const demand = demandOf(record);
  const { room, supply } = scenario;
  return [
    ...scenario.boards.flatMap((board, b) => [
      ...driverRatings(board, b, demand, room),
      ...counterRatings(board, b, demand, supply.volts),
      ...lampRatings(board, b, demand, scenario),
    ]),
    ...timerRatings(scenario),
    ...supplyRatings(scenario, demand),
  ];
}
