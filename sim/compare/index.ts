import { headlines, type Better, type FigureKey, type FigureUnit } from "../figures/headlines.js";
import { CURVE_POINTS, CURVE_STEP, worstEcho } from "../figures/repeat.js";
import { promiseText } from "../promises/text.js";
import type { Scenario } from "../model/scenario.js";
import { columnsOf } from "../spread/evaluate.js";
import { gather } from "../spread/gather.js";
import { holm } from "../statistics/holm.js";
import { pairedDifference, type PairedDifference } from "../statistics/paired.js";
import { type Seconds, toSeconds } from "../units/time.js";

export { billOf, type Bill } from "./counts.js";
export type { PairedDifference } from "../statistics/paired.js";

/** A difference from the first alternative, and whether it is more than chance where all figures are asked about at once. */
export interface AgainstFirst extends PairedDifference {
  /** Holm's adjusted chance, over all figures of all alternatives, is 5 % at most. */
  readonly distinct: boolean;
}

/** One figure of all alternatives, over the same builds. */
export interface Difference {
  /** Its place among the figures of a run, such as `repeat.returns[0].share`, or the highest of its echoes. */
  readonly figure: FigureKey | "repeat.worstEcho";
  readonly unit: FigureUnit;
  /** What it is called. */
  readonly words: string;
  /** Whether a display is more varied with more of it or with less; null where that is a matter of taste. */
  readonly better: Better | null;
  /** Mean over the builds, for each alternative; null where no build has it. */
  readonly values: readonly (number | null)[];
  /** Each alternative against the first, over builds of the same number; null for the first, and where nothing can be paired. */
  readonly againstFirst: readonly (AgainstFirst | null)[];
  /** Whether the builds tell any alternative from the first. */
  readonly distinct: boolean;
}

/** What the builds of one alternative have in common. */
export interface Drawn {
  readonly stalled: number;
  readonly unreachable: number;
  readonly promises: readonly { readonly text: string; readonly kept: number; readonly builds: number }[];
  /** The curve of returns, mean over the builds. */
  readonly curve: readonly { readonly afterSeconds: Seconds; readonly share: number }[];
}

/** What the builds tell of alternatives. */
export interface Comparison {
  readonly drawn: readonly Drawn[];
  readonly differences: readonly Difference[];
}

/** How alternatives are drawn: builds of each, from 2, and threads. */
export interface CompareOptions {
  readonly builds: number;
  readonly workers: number;
  /** Called now and then with the number of builds done, of all alternatives together. */
  readonly progress?: ((done: number, total: number) => void) | undefined;
}

/**
 * The scenario as it is compared with others: with the seed of the first, so that boards with the same id come out of
 * the same draws, and with its visitors, so that figures of returns and stays are about the same times.
 */
function onCommonGround(scenario: Scenario, first: Scenario): Scenario {
  return { ...scenario, seed: first.seed, visitors: first.visitors };
}

/** What share of a difference as large as found chance may bring, in any of the figures together. */
const LEVEL = 0.05;

/**
 * Draws builds 1 … `builds` of every alternative and compares their headline figures build by build. A build in which a
 * timer stalls has no figures; its pair is left out. Intervals are of each figure by itself; what is called distinct is so
 * with all figures of all alternatives asked about at once.
 * Differences have their unit beside them. Throws RangeError for no scenario, {@link RunTooLongError} for one that is too long.
 *
 * @example
 * ```ts
 * import { compareAlternatives, readScenario } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const other = { ...scenario, boards: scenario.boards.slice(0, 1) };
 * const { differences } = await compareAlternatives([scenario, other], { builds: 5, workers: 1 });
 * console.log(differences.find(({ figure }) => figure === "lit.mean")!.distinct); // true
 * ```
 */
export async function compareAlternatives(scenarios: readonly Scenario[], { builds, workers, progress }: CompareOptions): Promise<Comparison> {
  const [first] = scenarios;
  if (first === undefined) throw new RangeError("nothing to compare");
  const rows: Float64Array[][] = [];
  for (const [i, scenario] of scenarios.entries()) {
    const gathered = await gather(onCommonGround(scenario, first), {
      builds,
      workers,
      curves: true,
      progress: (done) => progress?.(i * builds + done, scenarios.length * builds),
    });
    rows.push(gathered.filter((row) => row !== undefined));
  }
  const figures = headlines(first.visitors);
  const columns = scenarios.map((scenario) => columnsOf(scenario, figures.length));
  const column = (alternative: number, at: number): Float64Array => Float64Array.from(rows[alternative]!, (row) => row[at]!);
  return {
    drawn: scenarios.map((scenario, a) => drawnOf(scenario, rows[a]!, columns[a]!)),
    differences: judged([
      ...figures.map(({ key, unit, words, better }, f) => ({
        figure: key,
        unit,
        words,
        better,
        builds: scenarios.map((_, a) => column(a, columns[a]!.figures + f)),
      })),
      {
        figure: "repeat.worstEcho",
        unit: "share",
        words: "worst echo within 3 h",
        better: "less",
        builds: scenarios.map((_, a) => Float64Array.from(rows[a]!, (row) => worstOf(row.subarray(columns[a]!.curve)))),
      },
    ]),
  };
}

/** The worst echo of a curve; NaN where nothing of it is defined. */
function worstOf(curve: Float64Array): number {
  const defined = curve.filter(Number.isFinite);
  return defined.length === 0 ? NaN : worstEcho(defined);
}

type Figure = Pick<Difference, "figure" | "unit" | "words" | "better">;

/** The figures of all builds, summed up, each against the first alternative. */
function judged(figures: readonly (Figure & { readonly builds: readonly Float64Array[] })[]): Difference[] {
  const pairs = figures.map(({ builds: [first, ...others] }) => others.map((own) => pairedDifference(first!, own)));
  const asked = pairs.flat().filter((pair) => pair !== null);
  const chances = new Map(holm(asked.map(({ chance }) => chance)).map((chance, i) => [asked[i], chance]));
  return figures.map(({ builds, ...figure }, f) => {
    const againstFirst = pairs[f]!.map((pair) => pair && { ...pair, distinct: chances.get(pair)! <= LEVEL });
    return { ...figure, values: builds.map(meanOf), againstFirst: [null, ...againstFirst], distinct: againstFirst.some((pair) => pair?.distinct === true) };
  });
}

function drawnOf({ promises }: Scenario, rows: readonly Float64Array[], at: ReturnType<typeof columnsOf>): Drawn {
  const total = (i: number): number => rows.reduce((sum, row) => sum + row[i]!, 0);
  return {
    stalled: total(at.stalled),
    unreachable: total(at.unreachable),
    promises: promises.map((promised, p) => ({ text: promiseText(promised), kept: total(at.promises + p), builds: rows.length })),
    curve: Array.from({ length: CURVE_POINTS }, (_, i) => i).flatMap((i) => {
      const share = meanOf(Float64Array.from(rows, (row) => row[at.curve + i]!));
      return share === null ? [] : [{ afterSeconds: toSeconds((i + 1) * CURVE_STEP), share }];
    }),
  };
}

function meanOf(values: Float64Array): number | null {
  const defined = values.filter(Number.isFinite);
  return defined.length === 0 ? null : defined.reduce((sum, value) => sum + value, 0) / defined.length;
}
