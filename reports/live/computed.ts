import { simulate } from "../../sim/engine/simulate.js";
import type { SceneRecord } from "../../sim/engine/record.js";
import { figures, type Figures } from "../../sim/figures/index.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { checkPromises, type PromiseResult } from "../../sim/promises/index.js";
import { ratingNotes, ratings, type Note, type Rating } from "../../sim/ratings/index.js";
import { ScenarioError } from "../../sim/scenario/problems.js";
import { scenarioOf } from "../../sim/scenario/read.js";
import { Source } from "../../sim/scenario/source.js";
import type { FileText } from "./embedded.js";
import type { State } from "./state.js";

/**
 * What follows from the state: pure functions of (text, settings), each remembered for the last thing it was asked.
 * Nothing here looks at the page.
 */

/** A scenario as read, or what is wrong with its text, as the terminal prints it. */
export type Reading = { readonly scenario: Scenario; readonly problems: readonly string[] } | { readonly scenario: null; readonly problems: readonly string[] };

/** Everything computed from one scenario. */
export interface Computed {
  readonly scenario: Scenario;
  /** With its trace. */
  readonly record: SceneRecord;
  readonly figures: Figures;
  readonly promises: readonly PromiseResult[];
  readonly ratings: readonly Rating[];
  readonly notes: readonly Note[];
}

/** Reads the text of a file laid over those it is based on. */
export const read = remember((text: string, planned: State["planned"]): Reading => {
  const [first, ...below] = planned;
  try {
    return { scenario: scenarioOf(sourceOf([{ file: first.file, text }, ...below])), problems: [] };
  } catch (error) {
    if (!(error instanceof ScenarioError)) throw error;
    return { scenario: null, problems: error.message.split("\n") };
  }
});

function sourceOf([first, ...below]: readonly FileText[]): Source {
  const source = Source.parse(first!.text, first!.file);
  return below.length === 0 ? source : source.over(sourceOf(below));
}

/** The scenario with other step times, by board id. */
export const withSteps = remember((scenario: Scenario, settings: State["settings"]): Scenario => {
  if (settings.size === 0) return scenario;
  const boards = scenario.boards.map((board) => {
    const step = settings.get(board.id);
    const { timer } = board;
    if (step === undefined || timer.kind === "carry") return board;
    if (timer.kind !== "astable") return { ...board, timer: { ...timer, step } };
    if (timer.trimmer === null) return board;
    const reading = timer.trimmer.setting.kind === "step" ? timer.trimmer.setting.reading : 0;
    return { ...board, timer: { ...timer, trimmer: { ...timer.trimmer, setting: { kind: "step" as const, step, reading } } } };
  });
  return { ...scenario, boards };
});

/** Simulates a scenario and computes everything that the page says of it. */
export function compute(scenario: Scenario): Computed {
  const record = simulate(scenario, { trace: true });
  return {
    scenario,
    record,
    figures: figures(record),
    promises: checkPromises(record),
    ratings: ratings(scenario, record),
    notes: ratingNotes(scenario, record),
  };
}

const computePlan = remember(compute);
const computeTried = remember(compute);
let lastGood: Scenario | null = null;

/** What is planned: the file as it was opened or saved. Null while that has problems. */
export function plannedOf({ planned }: State): Computed | null {
  const { scenario } = readPlan(planned[0].text, planned);
  return scenario === null ? null : computePlan(scenario);
}
const readPlan = remember(read);

/** What is shown: the text with the settings that are tried; while the text has problems, what it was before. */
export function shownOf(state: State): Computed | null {
  const { scenario } = read(state.text, state.planned);
  lastGood = scenario ?? lastGood;
  if (lastGood === null) return null;
  const tried = withSteps(lastGood, state.settings);
  const plan = plannedOf(state);
  return plan !== null && tried === plan.scenario ? plan : computeTried(tried);
}

/** Whether what is shown is something else than what is planned. */
export function isTrial({ planned, text, settings }: State): boolean {
  return settings.size > 0 || text !== planned[0].text;
}

/** A function that is not run again while its arguments stay the same things. */
function remember<Arguments extends readonly unknown[], Result>(run: (...of: Arguments) => Result): (...of: Arguments) => Result {
  let last: { readonly of: Arguments; readonly result: Result } | undefined;
  return (...of) => {
    if (last === undefined || !of.every((argument, i) => Object.is(argument, last!.of[i]))) last = { of, result: run(...of) };
    return last.result;
  };
}
