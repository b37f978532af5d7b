import { CURVE_POINTS, repeatCurve } from "../figures/repeat.js";
import { headlines, type Headline } from "../figures/headlines.js";
import type { Measures } from "../figures/measures.js";
import { evidenceOf } from "../promises/evidence.js";
import { isKept } from "../promises/judge.js";
import type { Scenario } from "../model/scenario.js";
import { builds } from "../builds/draw.js";

/** Columns of what is kept of a build: some marks, then a number for each board, headline figure and promise. */
export interface Columns {
  readonly stalled: 0;
  readonly unreachable: 1;
  readonly steps: number;
  readonly figures: number;
  readonly promises: number;
  /** The points of the curve of returns, where they are kept; else at the end of the row. */
  readonly curve: number;
}

/** Where the columns of a scenario are. */
export function columnsOf({ boards, promises }: Scenario, figures: number): Columns {
  const first = 2 + boards.length;
  return { stalled: 0, unreachable: 1, steps: 2, figures: first, promises: first + figures, curve: first + figures + promises.length };
}

/**
 * Simulates one build after the other. Each gives a row: whether a timer stalls (1 or 0), whether a knob does not reach
 * its setting (1 or 0; never both), mean step time of each board in seconds, the headline figures (NaN where not
 * defined), and whether each promise is kept (1 or 0). A build that stalls is not simulated: it has no figures and keeps
 * no promise. One with a knob at the end of its track runs as it is. With `curves` the row goes on with the curve of
 * returns (NaN where not defined).
 */
export function rows(scenario: Scenario, curves: boolean): (number: number) => Float64Array {
  const draw = builds(scenario);
  const figures = headlines(scenario.visitors);
  const evidence = evidenceOf(scenario, scenario.promises);
  const at = columnsOf(scenario, figures.length);
  return (number) => {
    const row = new Float64Array(at.curve + (curves ? CURVE_POINTS : 0));
    const found = evidence(draw(number));
    found.steps.forEach(({ meanSeconds }, b) => (row[at.steps + b] = meanSeconds));
    if (found.stalled.length > 0) {
      row[at.stalled] = 1;
      return row.fill(NaN, at.steps, at.promises).fill(NaN, at.curve);
    }
    if (found.outOfReach) row[at.unreachable] = 1;
    const { measures } = found;
    fill(row, at.figures, figures, measures);
    scenario.promises.forEach((promised, p) => {
      row[at.promises + p] = isKept(promised, found) ? 1 : 0;
    });
    if (curves) row.set(repeatCurve(measures.line).map(({ share }) => share ?? NaN), at.curve);
    return row;
  };
}

function fill(row: Float64Array, first: number, figures: readonly Headline[], measures: Measures): void {
  figures.forEach((figure, i) => (row[first + i] = figure.of(measures) ?? NaN));
}
