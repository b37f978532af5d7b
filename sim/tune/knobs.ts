import { InputError } from "../errors.js";
import { stepTimes } from "../steptimes/index.js";
import type { Scenario } from "../model/scenario.js";
import { NOMINAL } from "../timers/build.js";
import { spokenDuration } from "../units/text.js";
import { knobOf, nominalReach, settingAt, usualReach, type StepRange } from "../knob/settings.js";

/** A knob that is to be set, with the step times that are tried. */
export interface Knob {
  /** Index and id of its board. */
  readonly board: number;
  readonly id: string;
  readonly range: StepRange;
  /** Whether an end of the range is half or twice the present step, since nothing else bounds it there. */
  readonly paced: boolean;
  /** Error of the stopwatch, seconds. */
  readonly reading: number;
  /** Step times of the grid, rising. */
  readonly values: readonly number[];
}

/** Where nothing else bounds a step, it stays between the present one divided and multiplied by this. */
const PACE = 2;
/** Step times tried for one knob, at most. */
const MOST_VALUES = 241;

/**
 * The knobs of a scenario but for the boards that are kept: for each the step times inside what the scenario promises,
 * with the room's temperatures, drift, holds and the reading error, and inside `between`, as far as the knob reaches them in
 * 99 builds of 100 (or, where that leaves none, with nominal parts). An end that neither bounds is half or twice the present
 * step, so that nobody's display is made to hurry or to stand still for a gain on paper. Throws {@link InputError} that names
 * every board of which no step time is left, and where there is no knob to turn.
 */
export function knobsOf(scenario: Scenario, kept: ReadonlySet<number>, between: StepRange | null = null): Knob[] {
  const all = [...scenario.boards.keys()].filter((b) => knobOf(scenario, b) !== null);
  if (all.length === 0) {
    throw new InputError(`${scenario.file}: no board has a trimmer, so there is no knob to set; give one to a timer: trimmer: { value: ` +
      "500 kΩ ±20 %, in: rb }");
  }
  const free = all.filter((b) => !kept.has(b));
  if (free.length === 0) throw new InputError(`${scenario.file}: every board with a trimmer is kept as it is; leave at least one knob ` +
    "to be set");
  const promised = promisedSteps(scenario);
  const problems: string[] = [];
  const knobs = free.flatMap((b) => knobFor(scenario, b, promised, between, problems) ?? []);
  if (problems.length > 0) throw new InputError(problems.join("\n"));
  return knobs;
}

/** What all promises about steps leave together. */
export function promisedSteps({ promises }: Scenario): StepRange {
  const steps = promises.filter((promised) => promised.kind === "step");
  return {
    from: Math.max(0, ...steps.map(({ from }) => from ?? 0)),
    to: Math.min(Infinity, ...steps.map(({ to }) => to ?? Infinity)),
  };
}

function knobFor(scenario: Scenario, board: number, promised: StepRange, between: StepRange | null, problems: string[]): Knob | null {
  const { id } = scenario.boards[board]!;
  const { reading } = settingAt(knobOf(scenario, board)!.trimmer, 0);
  // what temperature, drift and holds make of a step, by the present setting
  const { meanSeconds, shortest, longest } = stepTimes(scenario)(NOMINAL)[board]!;
  const asked = {
    from: Math.max(between?.from ?? 0, promised.from === 0 ? 0 : (promised.from * meanSeconds) / shortest.seconds + reading),
    to: Math.min(between?.to ?? Infinity, (promised.to * meanSeconds) / longest.seconds - reading),
  };
  const wanted = {
    from: asked.from > 0 ? asked.from : Math.min(meanSeconds, asked.to) / PACE,
    to: Number.isFinite(asked.to) ? asked.to : Math.max(meanSeconds, asked.from) * PACE,
  };
  const paced = asked.from === 0 || !Number.isFinite(asked.to);
  const reach = nominalReach(scenario, board);
  for (const reached of [usualReach(scenario, board), reach]) {
    const range = reached && { from: Math.max(wanted.from, reached.from), to: Math.min(wanted.to, reached.to) };
    if (range !== null && range.from <= range.to && Number.isFinite(range.to)) return { board, id, range, paced, reading, values: valuesIn(range) };
  }
  const steps = between === null ? "the promised steps" : "the steps asked for";
  problems.push(
    `${scenario.file}: board ${id}: no setting of its knob keeps ${steps} (${spokenDuration(Math.max(0, wanted.from))} to ` +
      `${spokenDuration(wanted.to)}, temperature and reading error allowed for); the knob reaches ${spokenDuration(reach.from)} to ` +
      `${spokenDuration(reach.to)}. Choose other timer parts ("lampdrift parts" does), or promise other steps`,
  );
  return null;
}

/** Step times that people set: whole seconds, or tenths where the range is narrow; the ends of a range that holds none. */
export function valuesIn({ from, to }: StepRange): number[] {
  const digit = to - from >= 40 ? 1 : to - from >= 1 ? 0.1 : 0.001;
  const first = Math.ceil(from / digit - 1e-9);
  const last = Math.floor(to / digit + 1e-9);
  if (last < first) return [(from + to) / 2];
  const every = Math.max(1, Math.ceil((last - first) / (MOST_VALUES - 1)));
  const count = Math.floor((last - first) / every) + 1;
  return Array.from({ length: count }, (_, i) => Math.round((first + i * every) * digit * 1000) / 1000);
}
