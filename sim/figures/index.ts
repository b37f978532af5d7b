import type { SceneRecord } from "../engine/record.js";
import { anyHourFigures, type AnyHourFigures } from "./anyhour.js";
import { boardFigures, type BoardFigures } from "./boards.js";
import {
  houseFigures,
  litFigures,
  zoneFigures,
  type HouseFigures,
  type LitFigures,
  type ZoneFigures,
} from "./houses.js";
import { Measures } from "./measures.js";
import { repeatFigures, type RepeatFigures } from "./repeat.js";
import { sceneFigures, type SceneFigures } from "./scenes.js";
import { visitFigures, type VisitFigures } from "./visit.js";
import { type Seconds, toSeconds } from "../units/time.js";

/** The figures of one run. Times are seconds, shares 0 … 1. */
export interface Figures {
  readonly observed: {
    /** Open time in all. */
    readonly seconds: Seconds;
    /** Number of openings. */
    readonly days: number;
  };
  readonly boards: readonly BoardFigures[];
  readonly scenes: SceneFigures;
  readonly houses: readonly HouseFigures[];
  readonly zones: readonly ZoneFigures[];
  readonly lit: LitFigures;
  readonly repeat: RepeatFigures;
  readonly visit: VisitFigures;
  readonly anyHour: AnyHourFigures;
}

/**
 * All figures of a record: exact sums and integrals over its spells, nothing sampled. Most of the time goes into the
 * curve of repeats; who needs only some figures of many records calls the function for each group by itself.
 * Seconds, and shares 0 … 1. Throws nothing.
 *
 * @example
 * ```ts
 * import { figures, readScenario, simulate } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const { scenes, lit } = figures(simulate(scenario));
 * console.log(scenes.distinct <= scenes.combinations!, lit.shares.length); // true 9
 * ```
 */
export function figures(record: SceneRecord): Figures {
  return figuresOf(new Measures(record));
}

/** As {@link figures}, with what was worked out before. */
export function figuresOf({ record, totals: sums, line }: Measures): Figures {
  const { visitors } = record.scenario;
  return {
    observed: { seconds: toSeconds(sums.open), days: record.openings.length },
    boards: boardFigures(record),
    scenes: sceneFigures(record, sums),
    houses: houseFigures(record, sums),
    zones: zoneFigures(record, sums),
    lit: litFigures(record, sums),
    repeat: repeatFigures(line, visitors),
    visit: visitFigures(line, visitors),
    anyHour: anyHourFigures(line),
  };
}
