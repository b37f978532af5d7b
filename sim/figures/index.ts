import type { SceneRecord } from "../engine/record.js";
import { boardFigures, type BoardFigures } from "./boards.js";
import {
  houseFigures,
  litFigures,
  zoneFigures,
  type HouseFigures,
  type LitFigures,
  type ZoneFigures,
} from "./houses.js";
import { sceneFigures, type SceneFigures } from "./scenes.js";
import { totals } from "./totals.js";

/** The figures of one run. Times are seconds, shares 0 … 1. */
export interface Figures {
  readonly observed: {
    /** Open time in all. */
    readonly seconds: number;
    /** Number of openings. */
    readonly days: number;
  };
  readonly boards: readonly BoardFigures[];
  readonly scenes: SceneFigures;
  readonly houses: readonly HouseFigures[];
  readonly zones: readonly ZoneFigures[];
  readonly lit: LitFigures;
}

/** All figures of a record: exact sums and integrals over its spells, nothing sampled. */
export function figures(record: SceneRecord): Figures {
  const sums = totals(record);
  return {
    observed: { seconds: sums.open / 1e6, days: record.openings.length },
    boards: boardFigures(record),
    scenes: sceneFigures(record, sums),
    houses: houseFigures(record, sums),
    zones: zoneFigures(record, sums),
    lit: litFigures(record, sums),
  };
}
