import { headlines, type FigureUnit } from "../figures/headlines.js";
import { CURVE_POINTS, CURVE_STEP } from "../figures/repeat.js";
import { promiseText } from "../promises/text.js";
import type { Promised, Scenario } from "../model/scenario.js";
import { columnsOf } from "./evaluate.js";
import { wilson, type Proportion } from "../statistics/intervals.js";
import { quantiles, type Quantiles } from "../statistics/quantiles.js";
import { stepSources, type StepSources } from "../builds/sources.js";
import { type Seconds, toSeconds } from "../units/time.js";

/** What the builds of a scenario have in common. */
export interface Spread {
  /** Builds simulated; fewer than asked for when the work was ended early. */
  readonly builds: number;
  readonly partial: boolean;
  /** Builds in which a timer never clocks. They keep no promise, and are left out of steps and figures. */
  readonly stalled: number;
  /** Builds in which a knob does not reach its setting; simulated with the knob at the end of its track. */
  readonly unreachable: number;
  readonly boards: readonly BoardSpread[];
  /** By name, such as `scenes.effective`; null where no build has it. */
  readonly figures: Readonly<Record<string, (Quantiles & { readonly unit: FigureUnit }) | null>>;
  readonly promises: readonly PromiseSpread[];
  /** All promises at once; null when none is made. */
  readonly allKept: Kept | null;
  /** The curve of returns over the builds, where it was asked for; null where no build has a point. */
  readonly curve: readonly ({ readonly afterSeconds: Seconds } & Quantiles)[] | null;
}

/** The step time of one board over the builds. */
export interface BoardSpread {
  readonly id: string;
  /** Mean step time over the builds, seconds at the room's mean temperature; null when every build stalls. */
  readonly step: Quantiles | null;
  /** The same of every build that does not stall, in order of build. */
  readonly stepsDrawn: readonly number[];
  readonly sources: StepSources;
}

/** How many builds keep something: the share with its 95 % Wilson score interval. */
export interface Kept extends Proportion {
  readonly kept: number;
  readonly builds: number;
}

export interface PromiseSpread extends Kept {
  readonly promise: Promised["kind"];
  readonly text: string;
}

/**
 * Sums up the rows of builds as `rows` gives them; `asked`: how many were to be drawn, `curves`: whether the rows
 * hold the curve of returns.
 */
export function summarise(scenario: Scenario, rows: readonly Float64Array[], asked: number, curves: boolean): Spread {
  const figures = headlines(scenario.visitors);
  const at = columnsOf(scenario, figures.length);
  const column = (i: number): Float64Array => Float64Array.from(rows, (row) => row[i]!);
  const total = (i: number): number => rows.reduce((sum, row) => sum + row[i]!, 0);
  const counted = (kept: number): Kept => ({ kept, builds: rows.length, ...wilson(kept, rows.length) });
  const sources = stepSources(scenario);
  const allKept = rows.filter((row) => row.subarray(at.promises, at.curve).every((kept) => kept === 1)).length;
  return {
    builds: rows.length,
    partial: rows.length < asked,
    stalled: total(at.stalled),
    unreachable: total(at.unreachable),
    boards: scenario.boards.map(({ id }, b) => {
      const steps = column(at.steps + b);
      return { id, step: quantiles(steps), stepsDrawn: Array.from(steps.filter(Number.isFinite)), sources: sources[b]! };
    }),
    figures: Object.fromEntries(
      figures.map(({ key, unit }, i) => {
        const found = quantiles(column(at.figures + i));
        return [key, found && { ...found, unit }];
      }),
    ),
    promises: scenario.promises.map((promised, p) => ({
      promise: promised.kind,
      text: promiseText(promised),
      ...counted(total(at.promises + p)),
    })),
    allKept: scenario.promises.length === 0 ? null : counted(allKept),
    curve: curves ? curveOf((i) => quantiles(column(at.curve + i))) : null,
  };
}

function curveOf(point: (i: number) => Quantiles | null): NonNullable<Spread["curve"]> {
  return Array.from({ length: CURVE_POINTS }, (_, i) => i).flatMap((i) => {
    const found = point(i);
    return found === null ? [] : [{ afterSeconds: toSeconds((i + 1) * CURVE_STEP), ...found }];
  });
}
