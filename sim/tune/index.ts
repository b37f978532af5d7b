import { expectedPulses } from "../engine/limits.js";
import type { KnobSetting, Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";
import { adviseMeasured, type MeasuredAdvice } from "./advice.js";
import { ClosedForm, returnTimes } from "./closed.js";
import { judgeSetting, promisesKept, type Judged } from "./judge.js";
import { dialAtStep, knobOf, withSettings, type StepRange } from "../knob/settings.js";
import { knobsOf, settingAt, type Knob } from "./knobs.js";
import { roughSettings, pickApart } from "./search.js";
import { scoreMap, type ScoreMap } from "./map.js";
import type { Seconds } from "../units/time.js";

export type { ScoreMap } from "./map.js";
export type { Judged } from "./judge.js";
export { parseKeep } from "./keep.js";

/** A setting of all knobs, with what it was found to do. */
export interface TunedSetting extends Judged {
  /** Every board with a knob: step time, and where nominal parts have the knob then (share of its travel). */
  readonly boards: Readonly<Record<string, { readonly stepSeconds: Seconds; readonly dial: number }>>;
  /** By how much the closed form rises when the worst one of the knobs is off by the reading error. */
  readonly readingCost: number;
}

/** The step times of one knob that were looked at, seconds. */
export interface LookedAt {
  readonly id: string;
  readonly from: number;
  readonly to: number;
  /** Whether half or twice the present step is an end of them, since nothing else was. */
  readonly paced: boolean;
}

/** Settings that were found, and what the present one does. */
export interface Tuning {
  /** Best first. */
  readonly settings: readonly TunedSetting[];
  /** The setting of the file; null where it stalls. */
  readonly present: TunedSetting | null;
  /** Index of a setting with a much lower worst echo for little more score than the first; null where there is none. */
  readonly calmer: number | null;
  readonly builds: number;
  /** Longest return time of the score, seconds. */
  readonly longestReturn: number;
  /** The step times that were looked at, for each knob that was free. */
  readonly looked: readonly LookedAt[];
  readonly advice: readonly MeasuredAdvice[];
  readonly map: ScoreMap;
}

/** What tuning may change, and how it is judged. */
export interface TuneOptions {
  /** Step times that stay, by index of board, seconds. */
  readonly keep: ReadonlyMap<number, number>;
  /** Builds to try the best settings on. */
  readonly builds: number;
  /** Step times that are wanted, seconds; null: what is promised, else half to twice the present ones. */
  readonly between?: StepRange | null;
  /** Called now and then with the settings and builds simulated. */
  readonly progress?: ((done: number, total: number) => void) | undefined;
}

/** Settings shown. */
const SHOWN = 5;
/** Settings that are simulated over builds. */
const FINALISTS = 8;
/** How far they lie apart, in reading errors. */
const APART = 3;
/** Settings that are simulated with nominal parts, as many as there is work for. */
const MOST_SIMULATED = 480;
const LEAST_SIMULATED = 12;
const WORK = 20_000_000;
/** A worst echo so much lower, for a score so little higher, is worth a word. */
const CALMER_ECHO = 0.7;
const CALMER_SCORE = 1.1;
/** … where the echo stands out from chance by this factor. */
const STANDS_OUT = 2;
/** Scores this close together are told apart by their worst echo. */
const TIE = 1.005;

/**
 * Looks for the knob settings that keep the promises and show the same scene least often, inside the promised steps. First the closed form,
 * over the whole range of every knob; then the best by simulation of the nominal build; then the best of these over
 * builds, with reading error, tolerance and temperature. The score is the mean of the repeat share R(D) over return times
 * from 1 min to the longest same-day one of the scenario (3 h at least), plus the share of visitors who see a scene come
 * back during their stay. Throws InputError where there is no knob to set or no step time that it reaches.
 * Step times are seconds, scores sums of shares, dials shares of the travel.
 *
 * @example
 * ```ts
 * import { readScenario, tune } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const { settings } = tune(scenario, { keep: new Map(), builds: 1 });
 * console.log(settings.length > 0, Object.keys(settings[0]!.boards)); // true [ 'north', 'south' ]
 * ```
 */
export function tune(scenario: Scenario, { keep, builds, between = null, progress }: TuneOptions): Tuning {
  const started = withSteps(scenario, keep);
  const knobs = knobsOf(started, new Set(keep.keys()), between);
  const times = returnTimes(started);
  const closed = new ClosedForm(started, knobs, times);
  const work = expectedPulses(started);
  const simulated = Math.max(LEAST_SIMULATED, Math.min(MOST_SIMULATED, Math.floor(WORK / work)));
  const rough = roughSettings(closed, simulated);
  const total = rough.length + (FINALISTS + 1) * builds;
  const nominal = rough.flatMap(({ steps }, i) => {
    const judged = judgeSetting(setTo(started, knobs, steps), times, 0);
    progress?.(i + 1, total);
    return judged === null ? [] : [{ steps, judged }];
  });
  nominal.sort((a, b) => promisesKept(b.judged) - promisesKept(a.judged) || a.judged.score - b.judged.score);
  const finalists = pickApart(nominal, ({ steps }) => steps, knobs, FINALISTS, APART);
  const best = finalists.flatMap(({ steps }, i) => {
    const found = settingOver(started, closed, knobs, steps, builds);
    progress?.(rough.length + (i + 1) * builds, total);
    return found ?? [];
  });
  const now = boardTimes(scenario);
  const nowSteps = knobs.map(({ board }) => now[board]!.stepSeconds);
  const present = settingOver(scenario, closed, knobs, nowSteps, builds, true);
  // the knobs as they are stand for choice too, so that what is written is never worse
  const asItIs = keep.size === 0 ? present : settingOver(started, closed, knobs, nowSteps, builds, true);
  const fits = nowSteps.every((step) => between === null || (step >= between.from && step <= between.to));
  const others = best.filter(({ boards }) => knobs.some(({ id }, k) => Math.abs(boards[id]!.stepSeconds - nowSteps[k]!) > 5e-4));
  const unturned = fits ? asItIs : null;
  const worse = others.filter((one) => unturned !== null && isWorse(one, unturned));
  const notWorse = others.filter((one) => !worse.includes(one));
  const settings = [...ranked(unturned === null ? notWorse : [...notWorse, unturned]), ...ranked(worse)].slice(0, SHOWN);
  progress?.(total, total);
  const first = settings[0];
  const steps = first === undefined ? knobs.map(({ values }) => values[0]!) : knobs.map(({ id }) => first.boards[id]!.stepSeconds);
  return {
    settings,
    present,
    calmer: calmerThanFirst(settings),
    builds,
    longestReturn: times.at(-1)!,
    looked: knobs.map(({ id, range: { from, to }, paced }) => ({ id, from, to, paced })),
    advice: adviseMeasured(setTo(started, knobs, steps), times),
    map: scoreMap(closed, steps, nowSteps),
  };
}

/** A scenario with the knobs of these boards set to step times. */
export function withSteps(scenario: Scenario, steps: ReadonlyMap<number, number>): Scenario {
  const settings = new Map([...steps].map(([b, step]): [number, KnobSetting] => [b, settingAt(knobOf(scenario, b)!.trimmer, step)]));
  return withSettings(scenario, settings);
}

function setTo(scenario: Scenario, knobs: readonly Knob[], steps: readonly number[]): Scenario {
  return withSteps(scenario, new Map(knobs.map(({ board }, k) => [board, steps[k]!])));
}

/** One setting over the builds; `asItIs`: the knobs stay as the file has them. */
function settingOver(scenario: Scenario, closed: ClosedForm, knobs: readonly Knob[], steps: readonly number[], builds: number, asItIs = false): TunedSetting | null {
  const set = asItIs ? scenario : setTo(scenario, knobs, steps);
  const result = judgeSetting(set, closed.times, builds);
  if (result === null) return null;
  const now = boardTimes(set);
  const boards = [...set.boards.entries()].flatMap(([b, { id }]) =>
    knobOf(set, b) === null ? [] : [[id, { stepSeconds: now[b]!.stepSeconds, dial: dialAtStep(set, b, now[b]!.stepSeconds) }] as const],
  );
  // a knob finds its step but for the last bits; what was asked for is told
  const asked = new Map(knobs.map(({ id }, k) => [id, steps[k]!]));
  const told = boards.map(([id, { stepSeconds, dial }]) => [id, { stepSeconds: asked.get(id) ?? stepSeconds, dial }] as const);
  return { boards: Object.fromEntries(told), ...result, readingCost: readingCost(closed, steps) };
}

function readingCost(closed: ClosedForm, steps: readonly number[]): number {
  const centre = closed.score(steps, false);
  const off = closed.knobs.flatMap(({ reading }, k) =>
    [-reading, reading].map((error) => closed.score(steps.map((step, i) => (i === k ? Math.max(1e-3, step + error) : step)), false) - centre),
  );
  return Math.max(0, ...off);
}

/**
 * Those that keep the promises first, then those that most builds reach, then the lowest score; where scores are as good as
 * equal, the lower worst echo.
 */
function ranked(settings: readonly TunedSetting[]): TunedSetting[] {
  const left = [...settings].sort((a, b) => byPromises(a, b) || a.unreachable - b.unreachable || a.score - b.score);
  const order: TunedSetting[] = [];
  while (left.length > 0) {
    const [lead] = left;
    const alike = left.filter((one) => byPromises(one, lead!) === 0 && one.unreachable === lead!.unreachable);
    const tied = alike.filter((one) => one.score <= lead!.score * TIE);
    const next = tied.reduce((a, b) => (b.worstEcho < a.worstEcho ? b : a));
    order.push(next);
    left.splice(left.indexOf(next), 1);
  }
  return order;
}

/** Below 0 where the first keeps its promises better, to tenths of all builds; what every build keeps is better than nearly every. */
function byPromises(a: TunedSetting, b: TunedSetting): number {
  const always = ({ promises }: TunedSetting): number => promises.filter(({ kept, builds }) => kept === builds).length;
  return promisesKept(b) - promisesKept(a) || always(b) - always(a);
}

/**
 * Whether a setting keeps promises in fewer builds than another, all added up, or in as many and out of reach in more, or
 * with a higher score.
 */
function isWorse(one: TunedSetting, than: TunedSetting): boolean {
  const kept = ({ promises }: TunedSetting): number => promises.reduce((sum, promised) => sum + promised.kept, 0);
  return kept(one) < kept(than) || (kept(one) === kept(than) && (one.unreachable > than.unreachable || one.score > than.score));
}

function calmerThanFirst(settings: readonly TunedSetting[]): number | null {
  const first = settings[0];
  if (first === undefined || first.worstEcho < STANDS_OUT * first.chance) return null;
  const found = settings.findIndex(
    (one, i) => i > 0 && promisesKept(one) === promisesKept(first) && one.worstEcho <= CALMER_ECHO * first.worstEcho && one.score <= CALMER_SCORE * first.score,
  );
  return found < 0 ? null : found;
}

