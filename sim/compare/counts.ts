import { lampsOfHouses } from "../parts/lamps.js";
import { driverPackages } from "../parts/packages.js";
import type { Board, Scenario } from "../model/scenario.js";

/** What there is to build. */
export interface Bill {
  readonly boards: number;
  readonly houses: number;
  /** Of a house wired together one set, of one wired apart that of each output. */
  readonly lamps: number;
  /** Timer parts, timers, dividers, counters, driver packages and a regulator; lamps and their own resistors left out. */
  readonly parts: number;
}

/** Counts what a display is made of. */
export function billOf(scenario: Scenario): Bill {
  const { boards, houses, supply } = scenario;
  return {
    boards: boards.length,
    houses: houses.length,
    lamps: lampsOfHouses(scenario).flat().reduce((sum, { lamps }) => sum + lamps, 0),
    parts: boards.reduce((sum, board) => sum + partsOn(board), supply.regulator === null ? 0 : 1),
  };
}

function partsOn(board: Board): number {
  const counter = 1;
  return timerParts(board) + counter + driverPackages(board).length;
}

function timerParts({ timer }: Board): number {
  switch (timer.kind) {
    case "astable":
      // chip, two resistors and a capacitor
      return 4 + (timer.trimmer === null ? 0 : 1) + (timer.divide === 1 ? 0 : 1);
    case "measured":
    case "quartz":
      return 1;
    case "carry":
      return 0;
  }
}
