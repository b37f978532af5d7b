import { InputError } from "../errors.js";
import { cycleUnits, sequence } from "../counters/sequence.js";
import type { Scenario } from "../model/scenario.js";
import { knownWords } from "../scenario/problems.js";
import { clockwork } from "../timers/clockwork.js";
import { cornersOf } from "./corners.js";
import { knobOf, stepAtDial, type StepRange } from "../knob/settings.js";
import type { FittedBoard } from "./index.js";

/** What a scenario lets a board do, against what was measured. */
export interface Comparison {
  readonly id: string;
  /** Step times of the board as it is planned, whatever its parts, over the room's temperatures. */
  readonly planned: StepRange;
  /** The same wherever its knob stands; null without a knob. */
  readonly possible: StepRange | null;
  readonly verdict: "as planned" | "knob" | "parts";
  /** 2 or 3 where the step is so many times the planned one: every second change was missed, or one house watched; else null. */
  readonly multiple: number | null;
}

/**
 * Compares each board with the scenario's board of its name: `as planned` when the interval of the step time meets the
 * planned range, `knob` when only another setting of the knob explains it, `parts` when nothing inside the tolerances
 * does. Throws {@link InputError} with every board that the scenario does not have.
 */
export function compareWithScenario(boards: readonly FittedBoard[], scenario: Scenario, file: string): Comparison[] {
  const known = scenario.boards.map(({ id }) => id);
  const strange = boards.filter(({ id }) => !known.includes(id));
  if (strange.length > 0) {
    throw new InputError(
      strange.map(({ id }) => `${file}: ${scenario.file} has no board called "${id}"; ${knownWords(id, known, "boards")}`).join("\n"),
    );
  }
  return boards.map((board) => {
    const b = known.indexOf(board.id);
    const planned = plannedSteps(scenario, b);
    const possible = knobOf(scenario, b) === null ? null : possibleSteps(scenario, b);
    const verdict = meets(board, planned) ? "as planned" : possible !== null && meets(board, possible) ? "knob" : "parts";
    const multiple = [2, 3].find((n) => meets(board, { from: n * planned.from, to: n * planned.to })) ?? null;
    return { id: board.id, planned, possible, verdict, multiple: verdict === "as planned" ? null : multiple };
  });
}

function meets({ low, high }: FittedBoard, { from, to }: StepRange): boolean {
  return low <= to && high >= from;
}

/**
 * A carry board steps once in a cycle of the board that clocks it. A knob that is set by stopwatch is set: parts with which
 * its track ends before are left out, unless they all are such.
 */
function plannedSteps(scenario: Scenario, b: number): StepRange {
  const { id, timer } = scenario.boards[b]!;
  if (timer.kind === "carry") {
    const source = plannedSteps(scenario, timer.from);
    const steps = cycleUnits(sequence(scenario.boards[timer.from]!.counter));
    return { from: steps * source.from, to: steps * source.to };
  }
  const steps = (reached: boolean): StepRange =>
    over(scenario, b, (build, theta) => {
      const works = clockwork(id, timer, scenario.supply.volts, scenario.room, build);
      return reached && works.reach !== "set" ? null : works.divide * works.period(theta);
    });
  const planned = steps(true);
  return planned.from <= planned.to ? planned : steps(false);
}

function possibleSteps(scenario: Scenario, b: number): StepRange {
  const end = (dial: number): StepRange => over(scenario, b, (build, theta) => stepAtDial(scenario, b, dial, build, theta));
  return { from: end(0).from, to: end(1).to };
}

/** The extremes over all corners of tolerance and the room's temperatures; a corner of null does not count. */
function over(scenario: Scenario, b: number, seconds: (build: ReturnType<typeof cornersOf>[number], theta: number) => number | null): StepRange {
  const { mean, swing } = scenario.room;
  const all = cornersOf(scenario, b).flatMap((build) => [mean - swing, mean, mean + swing].flatMap((theta) => seconds(build, theta) ?? []));
  return { from: Math.min(...all), to: Math.max(...all) };
}
