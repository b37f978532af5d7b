import { MAXIMAL_TAPS } from "../counters/lfsr.js";
import { cycleUnits, sequence } from "../counters/sequence.js";
import { InputError } from "../errors.js";
import type { Board, Counter, Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";

/** The forms that {@link parseAddedBoard} takes. */
const ACCEPTED = "a counter and its size, such as ring:8 (2 to 1000 steps), johnson:5 (2 to 32 stages), binary:4 (1 to 10 bits) or " +
  "lfsr:4 (3 to 10 bits)";

/** Reads the counter of a board to be added, such as "ring:8". Throws {@link InputError}. */
export function parseAddedBoard(text: string): Counter {
  const [, kind = "", size = ""] = /^\s*([a-z]+)\s*:\s*(\d{1,4})\s*$/.exec(text) ?? [];
  const n = Number(size);
  const powerUp = "reset";
  if (kind === "ring" && n >= 2 && n <= 1000) return { kind, steps: n, powerUp };
  if (kind === "johnson" && n >= 2 && n <= 32) return { kind, stages: n, powerUp };
  if (kind === "binary" && n >= 1 && n <= 10) return { kind, bits: n, powerUp };
  const taps = MAXIMAL_TAPS[n];
  if (kind === "lfsr" && n >= 3 && n <= 10 && taps !== undefined) return { kind, bits: n, taps, powerUp };
  throw new InputError(`found ${JSON.stringify(text.slice(0, 60))}; expected ${ACCEPTED}`);
}

/** Step times tried for a new board, between these shares of the middle step time of the others. */
const TRIED = 200;
const SLOWEST = 1.5;
const QUICKEST = 0.67;
/** A stopwatch reads a step to about this, seconds. */
const READING = 1;

/**
 * The display with one more board that lights nothing yet: in the middle of the houses, with a step time at which all
 * boards come round together least often, for whatever timer gives it. It is called `added`, or `added2` and so on.
 */
export function withAddedBoard(scenario: Scenario, counter: Counter): Scenario {
  const taken = new Set(scenario.boards.map(({ id }) => id));
  let id = "added";
  for (let n = 2; taken.has(id); n++) id = `added${n}`;
  const { outputs } = sequence(counter);
  const board: Board = {
    id,
    at: middleOf(scenario),
    timer: { kind: "measured", step: apartStep(scenario, counter), reading: READING, tempco: 0, jitter: 0, drift: 0 },
    counter,
    driver: { kind: "darlington-8", thermal: null },
    outputs: Array.from({ length: outputs }, () => []),
  };
  return { ...scenario, boards: [...scenario.boards, board] };
}

function middleOf({ houses }: Scenario): [number, number] | null {
  const placed = houses.flatMap(({ at }) => (at === null ? [] : [at]));
  if (placed.length === 0) return null;
  const mean = (axis: 0 | 1): number => Math.round(placed.reduce((sum, at) => sum + at[axis], 0) / placed.length);
  return [mean(0), mean(1)];
}

/** The step time, in whole seconds where it is long, with the lowest mean return from 1 min to 3 h. */
function apartStep(scenario: Scenario, counter: Counter): number {
  const times = boardTimes(scenario);
  const steps = times.map(({ stepSeconds }) => stepSeconds).sort((a, b) => a - b);
  const middle = steps[steps.length >> 1]!;
  const units = cycleUnits(sequence(counter));
  const others = times.map(({ stepSeconds, cycleSeconds }) => ({ step: stepSeconds, cycle: cycleSeconds }));
  const digits = middle >= 20 ? 1 : 1000;
  let best = middle;
  let least = Infinity;
  for (let i = 0; i <= TRIED; i++) {
    const step = Math.round(middle * (QUICKEST + ((SLOWEST - QUICKEST) * i) / TRIED) * digits) / digits;
    if (step <= 0) continue;
    const mean = meanReturn([...others, { step, cycle: units * step }]);
    if (mean < least) [best, least] = [step, mean];
  }
  return best;
}

/**
 * Mean over return times of the chance that all boards are back where they were: the product of max(0, 1 − |D − nearest
 * multiple of the cycle| / step), as for boards that run freely beside each other.
 */
function meanReturn(boards: readonly { readonly step: number; readonly cycle: number }[]): number {
  let sum = 0;
  for (let after = 60; after <= 10_800; after += 15) {
    sum += boards.reduce((all, { step, cycle }) => all * Math.max(0, 1 - Math.abs(after - cycle * Math.round(after / cycle)) / step), 1);
  }
  return sum;
}
