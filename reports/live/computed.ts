import { expectedPulses } from "../../sim/engine/limits.js";
import type { SceneRecord } from "../../sim/engine/record.js";
import { simulate } from "../../sim/engine/simulate.js";
import { InputError } from "../../sim/errors.js";
import { figuresOf, type Figures } from "../../sim/figures/index.js";
import { Measures } from "../../sim/figures/measures.js";
import { withSteps } from "../../sim/knob/settings.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { checkPromises, type PromiseResult } from "../../sim/promises/index.js";
import { ratingNotes, ratings, type Note, type Rating } from "../../sim/ratings/index.js";
import { parseSource } from "../../sim/scenario/parse.js";
import { ScenarioError } from "../../sim/scenario/problems.js";
import { scenarioOf } from "../../sim/scenario/read.js";
import type { Source } from "../../sim/scenario/source.js";
import { NOMINAL } from "../../sim/timers/build.js";
import { findStalls, findTooShort, unreachable } from "../../sim/scenario/stalls.js";
import { visibleLines } from "../output/visible.js";
import type { FileText } from "../page/embedded.js";
import type { Photo } from "../pictures/photo.js";
import { nameOf } from "./files.js";
import type { State } from "./state.js";

/**
 * What follows from the state: pure functions of (text, settings), each remembered for the last thing it was asked.
 * Nothing here looks at the page.
 */

/** A scenario as read, or what is wrong with its text, as the terminal prints it. */
export interface Reading {
  readonly scenario: Scenario | null;
  /** The file as plain data, laid over those it is based on; null where there are problems. */
  readonly data: unknown;
  readonly problems: readonly string[];
}

/** Everything computed from one scenario, each when it is first asked for. */
export interface Computed {
  readonly scenario: Scenario;
  /** With its trace. */
  readonly record: SceneRecord;
  /** Single figures of the record, of which {@link figures} are made too. */
  readonly measures: Measures;
  readonly figures: Figures;
  readonly promises: readonly PromiseResult[];
  readonly ratings: readonly Rating[];
  readonly notes: readonly Note[];
}

/** Reads the text of a file laid over those it is based on; one that nobody could simulate is refused as `run` refuses it. */
function readFiles(text: string, planned: State["planned"]): Reading {
  const [first, ...below] = planned;
  try {
    const source = sourceOf([{ file: first.file, text }, ...below]);
    const scenario = scenarioOf(source);
    expectedPulses(scenario);
    return { scenario, data: source.data, problems: NONE };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { scenario: null, data: null, problems: visibleLines(error.message).split("\n") };
  }
}

/** The first file laid over the others that it is based on. Throws ScenarioError where the one that it names is not there. */
function sourceOf([first, ...below]: readonly FileText[]): Source {
  const source = parseSource(first!.text, first!.file);
  if (source.base === undefined) return source;
  if (nameOf(source.base) === below[0]?.file) return source.over(sourceOf(below));
  const message = `found ${source.found(["base"])}; open this file together with the one that it is based on`;
  throw new ScenarioError(first!.file, [source.problem(["base"], "value", message)]);
}

/**
 * The scenario with other step times, by board id, each as it would be written into the file; boards that have no step
 * time of their own stay. Problems where a knob does not reach, or a run would be too long.
 */
function atSettings(scenario: Scenario, settings: State["settings"]): Omit<Reading, "data"> {
  const steps = scenario.boards.flatMap(({ id }, b): [number, number][] => {
    const step = settings.get(id);
    return step === undefined ? [] : [[b, step]];
  });
  const tried = withSteps(scenario, new Map(steps));
  const problems = [...findStalls(tried), ...findTooShort(tried), ...unreachable(tried)].map(({ board, message }) => `board ${board}: ${message}`);
  try {
    expectedPulses(tried);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    problems.push(error.message);
  }
  return problems.length === 0 ? { scenario: tried, problems: NONE } : { scenario: null, problems };
}

/** No problems: always the same list, so that whoever watches sees that nothing has changed. */
const NONE: readonly string[] = [];

/** Simulates a scenario and computes what the page says of it. */
function compute(scenario: Scenario): Computed {
  const record = once(() => simulate(scenario, { trace: true }));
  const measures = once(() => new Measures(record()));
  const found = once(() => figuresOf(measures()));
  const rated = once(() => ratings(scenario, record()));
  const promises = once(() => checkPromises(record(), NOMINAL, { measures: measures(), ratings: rated() }));
  const notes = once(() => ratingNotes(scenario, record()));
  return {
    scenario,
    get record() {
      return record();
    },
    get measures() {
      return measures();
    },
    get figures() {
      return found();
    },
    get promises() {
      return promises();
    },
    get ratings() {
      return rated();
    },
    get notes() {
      return notes();
    },
  };
}

const readText = remember(readFiles);
const readPlan = remember(readFiles);
const trySteps = remember(atSettings);
const computePlan = remember(compute);
const computeText = remember(compute);
const computeTried = remember(compute);

/** The text as it stands. */
function readingOf({ text, planned }: State): Reading {
  return text === planned[0].text ? readPlan(text, planned) : readText(text, planned);
}

/** The text as plain data; null while it has problems. */
export function dataOf(state: State): unknown {
  return readingOf(state).data;
}

/** What is planned: the file as it was opened or saved. Null while that has problems. */
export function plannedOf({ planned }: State): Computed | null {
  const { scenario } = readPlan(planned[0].text, planned);
  return scenario === null ? null : computePlan(scenario);
}

/** The text without the settings that are tried; null while it has problems. */
export function writtenOf(state: State): Computed | null {
  if (state.text === state.planned[0].text) return plannedOf(state);
  const { scenario } = readingOf(state);
  return scenario === null ? null : computeText(scenario);
}

/** What keeps the text, or the settings, from being shown: as the terminal prints it. */
export function problemsOf(state: State): readonly string[] {
  const { scenario, problems } = readingOf(state);
  return scenario === null || state.settings.size === 0 ? problems : trySteps(scenario, state.settings).problems;
}

let lastGood: Computed | null = null;

/** What is shown: the text with the settings that are tried; while one of them has problems, what it was before. */
export function shownOf(state: State): Computed | null {
  const written = writtenOf(state);
  if (written === null) return lastGood ?? plannedOf(state);
  if (state.settings.size === 0) return (lastGood = written);
  const { scenario } = trySteps(written.scenario, state.settings);
  if (scenario !== null) lastGood = computeTried(scenario);
  return lastGood ?? written;
}

/** The picture of the display that is shown, where it is at hand; wherever it lies, its name is what counts. */
export function photoOf(state: State): Photo | null {
  const name = nameOf(shownOf(state)?.scenario.picture);
  return state.photos.find((photo) => nameOf(photo.name) === name) ?? null;
}

/** Whether what is shown is something else than what is planned. */
export function isTrial({ planned, text, settings }: State): boolean {
  return settings.size > 0 || text !== planned[0].text;
}

/** A value that is worked out when it is first asked for. */
function once<Value>(make: () => Value): () => Value {
  let made: { readonly value: Value } | undefined;
  return () => (made ??= { value: make() }).value;
}

/** A function that is not run again while its arguments stay the same things. */
function remember<Arguments extends readonly unknown[], Result>(run: (...of: Arguments) => Result): (...of: Arguments) => Result {
  let last: { readonly of: Arguments; readonly result: Result } | undefined;
  return (...of) => {
    if (last === undefined || !of.every((argument, i) => Object.is(argument, last!.of[i]))) last = { of, result: run(...of) };
    return last.result;
  };
}
