import { cycleUnits, isEven, sequence, type Sequence } from "../counters/sequence.js";
import type { Board, Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";
import { knobOf } from "./settings.js";

/** Seconds by which a hand is late or early on a stopwatch at most, at either end (common practice, no source). */
export const HAND = 0.3;
/** Jitter is allowed for up to so many standard deviations. */
const SIGMAS = 3;
/** Share of a step to which it is timed where nobody says how near it should be. */
const GOOD_ENOUGH = 0.02;
/** Nobody waits longer for a board to come round, seconds. */
const LONGEST_ROUND = 4 * 3600;

/**
 * What to count while the stopwatch runs: changes, where each can be seen and all steps are equal; whole rounds, where
 * not; the shortest time between two changes, where a round takes too long or there is none; nothing, where no lamp
 * shows the board's steps.
 */
export type Watch = "changes" | "rounds" | "shortest" | "nothing";

/** How a board is timed with a stopwatch. */
export interface Timing {
  readonly watch: Watch;
  /** False where some steps are held longer than others. */
  readonly even: boolean;
  /** What to count, changes or rounds. */
  readonly count: number;
  /** Steps that these last, in plain step times. */
  readonly units: number;
  /** How near this comes to the step time at worst, seconds. */
  readonly within: number;
}

/** A stopwatch run that finds the step time to ± `precision` seconds, or, for 0, to {@link GOOD_ENOUGH}. */
export function stopwatch(scenario: Scenario, b: number, precision: number): Timing {
  const board = scenario.boards[b]!;
  const { jitter, divide } = knobOf(scenario, b)!;
  const step = boardTimes(scenario)[b]!.stepSeconds;
  const sigma = (jitter * step) / Math.sqrt(divide);
  const seq = sequence(board.counter);
  const even = isEven(board.counter);
  const watch = watchOf(board, seq, even, step);
  const each = watch === "rounds" ? cycleUnits(seq) : 1;
  const needed = stepsFor(sigma, precision === 0 ? GOOD_ENOUGH * step : precision);
  const count = watch === "changes" || watch === "rounds" ? Math.max(1, Math.ceil(needed / each - 1e-9)) : 1;
  const units = count * each;
  return { watch, even, count, units, within: (2 * HAND) / units + (SIGMAS * sigma) / Math.sqrt(units) };
}

/** Steps n at which 2·HAND/n + 3·sigma/√n is `precision`: a quadratic in 1/√n. */
function stepsFor(sigma: number, precision: number): number {
  const jitter = SIGMAS * sigma;
  const root = (Math.sqrt(jitter * jitter + 8 * HAND * precision) - jitter) / (4 * HAND);
  return 1 / (root * root);
}

function watchOf({ outputs }: Board, seq: Sequence, even: boolean, step: number): Watch {
  const lit = Array.from({ length: seq.steps }, (_, s) => {
    const houses = seq.on(s).flatMap((output) => outputs[output]!.map(({ house }) => house));
    return [...new Set(houses)].sort((a, b) => a - b).join();
  });
  if (new Set(lit).size < 2) return "nothing";
  const seen = seq.shuffled ? new Set(lit).size === lit.length : lit.every((shown, s) => shown !== lit[(s + 1) % lit.length]);
  if (seen && even) return "changes";
  const round = cycleUnits(seq) * step;
  return even && (seq.shuffled || round > LONGEST_ROUND) ? "shortest" : "rounds";
}
