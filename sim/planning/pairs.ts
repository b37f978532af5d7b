import { cycleUnits, sequence } from "../counters/sequence.js";
import type { Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";
import { continuedFraction } from "./continued.js";
import { type Seconds, toMicros, toSeconds } from "../units/time.js";

/** How two boards come back in step: q rounds of one take about as long as p rounds of the other. */
export interface BoardPair {
  readonly a: string;
  readonly b: string;
  /** Cycle of a divided by cycle of b. */
  readonly ratio: number;
  /** Both are clocked by one timer, one of them through the other's carry: the ratio holds for ever, whatever the parts. */
  readonly locked: boolean;
  /** Better and better ones, as the continued fraction of the ratio gives them, with small numbers only. */
  readonly approximations: readonly Approximation[];
}

/** q rounds of one board last about as long as p rounds of the other. */
export interface Approximation {
  /** Rounds of board b. */
  readonly p: number;
  /** Rounds of board a. */
  readonly q: number;
  /** Time of q rounds of a. */
  readonly afterSeconds: Seconds;
  /** By how much p rounds of b end earlier than that (negative: later). */
  readonly offSeconds: Seconds;
  /** The same without its sign, in steps of the board with the shorter step. */
  readonly offSteps: number;
}

/** A board that comes round in equal cycles. */
export interface CyclicBoard {
  readonly id: string;
  readonly cycleSeconds: Seconds;
  /** Mean over the cycle. */
  readonly stepSeconds: Seconds;
  /** The board whose timer clocks it, at the end of any chain of carries, and the step time to which that is set. */
  readonly clock: string;
  readonly clockStepSeconds: Seconds;
  /** Steps of that timer in a cycle of this board, holds included. */
  readonly clockSteps: number;
}

/** Approximations with more rounds than this are left out, but for the first. */
const MOST_ROUNDS = 100;

/**
 * The boards that come round in equal cycles, in board order: all but those with a shuffle, and those clocked by the
 * carry of one. Nominal times at the room's mean temperature.
 */
export function cyclicBoards(scenario: Scenario): CyclicBoard[] {
  const times = boardTimes(scenario);
  const known = new Map<number, CyclicBoard | null>();
  const cyclic = (b: number): CyclicBoard | null => {
    const found = known.get(b);
    if (found !== undefined) return found;
    const { id, counter, timer } = scenario.boards[b]!;
    const seq = sequence(counter);
    const source = timer.kind === "carry" ? cyclic(timer.from) : { clock: id, clockStepSeconds: times[b]!.stepSeconds, clockSteps: 1 };
    const board =
      seq.shuffled || source === null
        ? null
        : {
            id,
            cycleSeconds: times[b]!.cycleSeconds,
            stepSeconds: times[b]!.cycleSeconds / seq.steps,
            clock: source.clock,
            clockStepSeconds: source.clockStepSeconds,
            clockSteps: cycleUnits(seq) * source.clockSteps,
          };
    known.set(b, board);
    return board;
  };
  return scenario.boards.flatMap((_, b) => cyclic(b) ?? []);
}

/**
 * Every pair of boards that come round in equal cycles, and when the two come back in step.
 * Seconds. Throws {@link InputError} where a timer stalls.
 *
 * @example
 * ```ts
 * import { boardPairs, readScenario } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const [pair] = boardPairs(scenario);
 * console.log(pair!.a, pair!.b, pair!.ratio.toFixed(1)); // north south 1.0
 * ```
 */
export function boardPairs(scenario: Scenario): BoardPair[] {
  const boards = cyclicBoards(scenario);
  return boards.flatMap((a, i) => boards.slice(i + 1).map((b) => pairOf(a, b)));
}

function pairOf(a: CyclicBoard, b: CyclicBoard): BoardPair {
  const cycleA = cycleMicros(a);
  const cycleB = cycleMicros(b);
  const shorter = Math.min(a.stepSeconds, b.stepSeconds);
  const real = continuedFraction(cycleA, cycleB).convergents.filter(({ p }) => p > 0);
  const small = real.filter(({ p, q }, i) => i === 0 || Math.max(p, q) <= MOST_ROUNDS);
  return {
    a: a.id,
    b: b.id,
    ratio: cycleA / cycleB,
    locked: a.clock === b.clock,
    approximations: small.map(({ p, q }) => {
      const offSeconds = toSeconds(q * cycleA - p * cycleB);
      return { p, q, afterSeconds: toSeconds(q * cycleA), offSeconds, offSteps: Math.abs(offSeconds) / shorter };
    }),
  };
}

/** From steps of whole microseconds, so that the ratio of round cycles, and of cycles with one clock, comes out even. */
function cycleMicros({ clockSteps, clockStepSeconds }: CyclicBoard): number {
  return clockSteps * toMicros(clockStepSeconds);
}
