import { driverPackages } from "../parts/packages.js";
import type { Board, Scenario } from "../model/scenario.js";

/** What there is to build. */
export interface Bill {
  readonly boards: number;
  readonly houses: number;
  readonly lamps: number;
  /** Timer parts, timers, dividers, counters, driver packages and a regulator; lamps and their own resistors left out. */
  readonly parts: number;
}

/** Counts what a display is made of. */
export function billOf({ boards, houses, supply }: Scenario): Bill {
  const loads = boards.flatMap(({ outputs }) => outputs.flat());
  return {
    boards: boards.length,
    houses: houses.length,
    lamps: loads.reduce((sum, { lamps }) => sum + lamps, 0),
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
