import { sequence } from "../counters/sequence.js";
import { simulate } from "../engine/simulate.js";
import type { Scenario } from "../model/scenario.js";
import { NO_WISHES } from "../model/wishes.js";
import { checkPromises, type PromiseResult } from "../promises/index.js";
import { stream } from "../random/streams.js";
import { ratings } from "../ratings/index.js";
import { anneal } from "./anneal.js";
import { arranged, layoutOf, type Layout } from "./items.js";
import { Measure, type Parts } from "./parts.js";
import { rankOfParts, scoreOf, type Scales, type Weights } from "./score.js";
import { Arrangements } from "./search.js";
import { jointTimeline } from "./timeline.js";
import { Violations } from "./wishes.js";

export { PART_NAMES, type PartName, type Parts } from "./parts.js";
export type { Weights } from "./score.js";
export { withAddedBoard, parseAddedBoard } from "./grow.js";

/** An arrangement judged on the record of its own simulation. */
export interface JudgedArrangement {
  readonly scenario: Scenario;
  readonly score: number;
  readonly parts: Parts;
  readonly promises: readonly PromiseResult[];
  /** Ratings that are over their limit. */
  readonly over: number;
  /** Wishes not kept and outputs beyond their channel, 0 when all is well. */
  readonly amiss: number;
}

export interface Arrangement {
  readonly before: JudgedArrangement;
  /** The best found; `before` itself where nothing better was. */
  readonly after: JudgedArrangement;
  /** The lowest that each part could be, whatever the arrangement. */
  readonly least: Parts;
  readonly tries: number;
}

export interface ArrangeOptions {
  /** Changes tried in the search. */
  readonly tries: number;
  readonly seed: string;
  readonly weights?: Partial<Weights>;
}

/** All parts weigh the same unless told. */
export const WEIGHTS: Weights = { evenness: 1, swing: 1, dark: 1, together: 1, wire: 1, sameAtRandom: 1 };

/** A difference of scores that does not show in the three digits with which they are printed. */
const UNSEEN = 5e-4;

const DESCENTS = 8;
/** Arrangements that are simulated in the end. */
const FINALISTS = 16;
/** Stretches of joint positions that the search looks at; the finalists are judged on all. */
const SEARCHED_STRETCHES = 20_000;

/**
 * Looks for the arrangement of houses on outputs that keeps promises, ratings and wishes, in that order, and then has the
 * lowest score. Only what hangs where changes: every house keeps its lamps, and at least one output. The search goes by the
 * joint positions of one simulation; the best few are simulated. A generator: yields the changes tried so far, so that the
 * caller may show them; `stop` ends the search early with the best so far. Deterministic by `seed`.
 */
export function* arrange(scenario: Scenario, { tries, seed, weights }: ArrangeOptions, stop: () => boolean = () => false): Generator<number, Arrangement> {
  const weighed = { ...WEIGHTS, ...weights };
  const steps = scenario.boards.map(({ counter }) => sequence(counter).steps);
  const timeline = jointTimeline(simulate(scenario, { trace: true }), steps, SEARCHED_STRETCHES);
  const houseDark = scenario.promises.some(({ kind }) => kind === "darkSpell");
  const asItIs = layoutOf({ ...scenario, wishes: NO_WISHES });
  const layout = layoutOf(scenario);
  const measure = new Measure(layout, timeline, houseDark);
  const today = new Measure(asItIs, timeline, houseDark).parts(asItIs.start).parts;
  const search = new Arrangements(layout, measure, new Violations(layout), weighed, today, FINALISTS);
  const random = stream(seed, 0, "", "arrange");
  let tried = 0;
  for (tried of anneal(search, { tries, descents: DESCENTS, random })) {
    yield tried;
    if (stop()) break;
  }
  const judge = judgeOn(layout, weighed, measure.scales);
  const before = judge(scenario);
  let after = before;
  const ordered = (one: JudgedArrangement): number[] => order(one, before, measure.scales, weighed);
  for (const { placing } of search.best) {
    const judged = judge(arranged(layout, placing));
    if (isLess(ordered(judged), ordered(after))) after = judged;
  }
  const orderBefore = ordered(before);
  const sameOtherwise = ordered(after).slice(0, -1).every((value, i) => value === orderBefore[i]);
  // nobody solders anew for what no digit of the score shows
  if (sameOtherwise && before.score - after.score < UNSEEN) after = before;
  return { before, after, least: measure.scales.least, tries: tried };
}

/** Judges arrangements of one display on their own records, by the scales of the search. */
function judgeOn(layout: Layout, weights: Weights, scales: Scales): (scenario: Scenario) => JudgedArrangement {
  return (scenario) => {
    const record = simulate(scenario, { trace: true });
    const own = layoutOf({ ...scenario, wishes: NO_WISHES });
    const timeline = jointTimeline(record, own.sequences.map(({ steps }) => steps));
    const { parts } = new Measure(own, timeline, false).parts(own.start);
    return {
      scenario,
      score: scoreOf(parts, scales, weights),
      parts,
      promises: checkPromises(record),
      over: ratings(scenario, record).filter(({ verdict }) => verdict === "over").length,
      amiss: amissOf(layout, scenario),
    };
  };
}

/** What a scenario's own arrangement does against the wishes of a layout. */
function amissOf({ scenario: { wishes } }: Layout, scenario: Scenario): number {
  const own = layoutOf({ ...scenario, wishes: { ...NO_WISHES, apart: wishes.apart, perOutput: wishes.perOutput } });
  const outputsOf = (house: number): string =>
    scenario.boards.flatMap(({ outputs }, b) => outputs.flatMap((loads, o) => (loads.some((load) => load.house === house) ? [`${b}.${o}`] : []))).join();
  const scattered = wishes.together.filter(([first, ...others]) => others.some((house) => outputsOf(house) !== outputsOf(first!))).length;
  const strayed = [...wishes.board].filter(([house, board]) =>
    scenario.boards.some(({ outputs }, b) => b !== board && outputs.some((loads) => loads.some((load) => load.house === house))),
  ).length;
  return new Violations(own).of(own.start) + scattered + strayed;
}

/** Promises first, then ratings, then wishes, then parts worse than today's and the score. */
function order(one: JudgedArrangement, before: JudgedArrangement, scales: Scales, weights: Weights): number[] {
  const broken = one.promises.filter(({ kept }) => !kept).length;
  return [broken, one.over, one.amiss, rankOfParts(one.parts, before.parts, scales, weights)];
}

function isLess(a: readonly number[], b: readonly number[]): boolean {
  const at = a.findIndex((value, i) => value !== b[i]);
  return at >= 0 && a[at]! < b[at]!;
}
