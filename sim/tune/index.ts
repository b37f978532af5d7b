import { alone, turn, type Hire } from "../crew/crew.js";
import { expectedPulses } from "../engine/limits.js";
import type { Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";
import { adviseMeasured, type MeasuredAdvice } from "./advice.js";
import { ClosedForm, returnTimes } from "./closed.js";
import type { Judged } from "./judge.js";
import { dialAtStep, knobOf, withSteps, type StepRange } from "../knob/settings.js";
import { knobsOf, type Knob } from "./knobs.js";
import { roughSettings } from "./search.js";
import { scoreMap, type ScoreMap } from "./map.js";
import { bestFirst, calmerThanFirst } from "./ranking.js";
import type { TunedSetting } from "./setting.js";
import { tryOut } from "./trials.js";

export type { ScoreMap } from "./map.js";
export type { TunedSetting } from "./setting.js";
export { parseKeep } from "./keep.js";

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
  /** Builds that the settings were tried on; 0: nominal parts alone, when the work was stopped before. */
  readonly builds: number;
  /** Whether the work was stopped: settings are then the best so far. */
  readonly stopped: boolean;
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
  /** Who simulates (default: the calling thread alone). The answer is the same whoever does. */
  readonly hire?: Hire | undefined;
  /** Ends the work early; what is found by then is told. */
  readonly signal?: AbortSignal | undefined;
  /** Step times that are wanted, seconds; null: what is promised, else half to twice the present ones. */
  readonly between?: StepRange | null;
  /** Called now and then with the settings and builds simulated. */
  readonly progress?: ((done: number, total: number) => void) | undefined;
}

/** Settings shown. */
const SHOWN = 5;
/** Settings that are simulated with nominal parts, as many as there is work for. */
const MOST_SIMULATED = 480;
const LEAST_SIMULATED = 12;
const WORK = 20_000_000;

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
 * const { settings } = await tune(scenario, { keep: new Map(), builds: 1 });
 * console.log(settings.length > 0, Object.keys(settings[0]!.boards)); // true [ 'north', 'south' ]
 * ```
 */
export async function tune(scenario: Scenario, options: TuneOptions): Promise<Tuning> {
  const { keep, builds, between = null, hire = alone, signal, progress } = options;
  const started = withSteps(scenario, keep);
  const knobs = knobsOf(started, new Set(keep.keys()), between);
  const times = returnTimes(started);
  const closed = new ClosedForm(started, knobs, times);
  const simulated = Math.max(LEAST_SIMULATED, Math.min(MOST_SIMULATED, Math.floor(WORK / expectedPulses(started))));
  const rough = await roughSettings(closed, simulated, async () => {
    await turn();
    return signal?.aborted === true;
  });
  const found = await tryOut(scenario, { knobs, rough, keep, times, builds, hire, signal, progress });
  const nowSteps = stepsOf(scenario, knobs);
  const best = found.finalists.map(({ steps, judged }) => told(setTo(started, knobs, steps), closed, steps, judged));
  const present = found.present && told(scenario, closed, nowSteps, found.present);
  // the knobs as they are stand for choice too, so that what is written is never worse
  const asItIs = found.asItIs && told(started, closed, nowSteps, found.asItIs);
  const fits = nowSteps.every((step) => between === null || (step >= between.from && step <= between.to));
  const others = best.filter(({ boards }) => knobs.some(({ id }, k) => Math.abs(boards[id]!.stepSeconds - nowSteps[k]!) > 5e-4));
  const settings = bestFirst(others, fits ? asItIs : null).slice(0, SHOWN);
  const first = settings[0];
  const steps = first === undefined ? knobs.map(({ values }) => values[0]!) : knobs.map(({ id }) => first.boards[id]!.stepSeconds);
  return {
    settings,
    present,
    calmer: calmerThanFirst(settings),
    builds: found.builds,
    stopped: found.stopped,
    longestReturn: times.at(-1)!,
    looked: knobs.map(({ id, range: { from, to }, paced }) => ({ id, from, to, paced })),
    advice: adviseMeasured(setTo(started, knobs, steps), times),
    map: scoreMap(closed, steps, nowSteps),
  };
}

function stepsOf(scenario: Scenario, knobs: readonly Knob[]): number[] {
  const times = boardTimes(scenario);
  return knobs.map(({ board }) => times[board]!.stepSeconds);
}

function setTo(scenario: Scenario, knobs: readonly Knob[], steps: readonly number[]): Scenario {
  return withSteps(scenario, new Map(knobs.map(({ board }, k) => [board, steps[k]!])));
}

/** A setting with what was found of it; `set` is the scenario with its knobs turned so. */
function told(set: Scenario, closed: ClosedForm, steps: readonly number[], found: Judged): TunedSetting {
  const now = boardTimes(set);
  const boards = [...set.boards.entries()].flatMap(([b, { id }]) =>
    knobOf(set, b) === null ? [] : [[id, { stepSeconds: now[b]!.stepSeconds, dial: dialAtStep(set, b, now[b]!.stepSeconds) }] as const],
  );
  // a knob finds its step but for the last bits; what was asked for is told
  const asked = new Map(closed.knobs.map(({ id }, k) => [id, steps[k]!]));
  const shown = boards.map(([id, { stepSeconds, dial }]) => [id, { stepSeconds: asked.get(id) ?? stepSeconds, dial }] as const);
  return { boards: Object.fromEntries(shown), ...found, readingCost: readingCost(closed, steps) };
}

function readingCost(closed: ClosedForm, steps: readonly number[]): number {
  const centre = closed.score(steps, false);
  const off = closed.knobs.flatMap(({ reading }, k) =>
    [-reading, reading].map((error) => closed.score(steps.map((step, i) => (i === k ? Math.max(1e-3, step + error) : step)), false) - centre),
  );
  return Math.max(0, ...off);
}
