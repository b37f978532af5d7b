import { wire, type BoardWiring } from "../engine/wiring.js";
import type { Scenario } from "../model/scenario.js";
import type { Seconds } from "../units/time.js";

/**
 * How alike a part of the display is to itself: the boards that one timer clocks, directly or through carries. Boards of
 * different timers run independently of each other, so that the display is alike for the product of its parts.
 */
export interface AlikePart {
  /** Index of the board whose timer clocks the part. */
  readonly clock: number;
  /** Share of the time for which the part shows the same `seconds` later, with steps of `step` seconds. */
  readonly alike: (seconds: Seconds, step: number) => number;
}

/** Factors on step times are brought to whole numbers of this many slots a step at most. */
const MOST_SLOTS = 16;
/** Slots that are looked at in a cycle; of a longer one its beginning. */
const MOST_LENGTH = 65_536;
/** Comparisons of slots for one part, at most. */
const MOST_WORK = 100_000_000;

/** The parts of a display, one for each board with a timer of its own; times up to `longest` seconds, steps from `shortest` on. */
export function alikeParts(scenario: Scenario, longest: number, shortest: (board: number) => number): AlikePart[] {
  const wiring = wire(scenario);
  return scenario.boards.flatMap(({ timer }, clock) => {
    if (timer.kind === "carry") return [];
    const { slots, shown, whole } = slotsOf(scenario, wiring, clock);
    const lags = Math.ceil((longest * slots) / shortest(clock)) + 2;
    const { sequence } = wiring[clock]!;
    const table = sequence.shuffled ? shuffledTable(wiring[clock]!, lags) : alikeTable(shown, lags, whole);
    // the table comes round where all of the cycle is in it
    const at = (lag: number): number => table[sequence.shuffled || !whole ? Math.min(lag, table.length - 1) : lag % shown.length]!;
    return [
      {
        clock,
        alike: (seconds, step) => {
          const place = (seconds * slots) / step;
          const lag = Math.floor(place);
          return at(lag) + (place - lag) * (at(lag + 1) - at(lag));
        },
      },
    ];
  });
}

interface Slots {
  /** Slots in one step with the factor 1. */
  readonly slots: number;
  /** What is shown in each slot of the cycle, as numbers. */
  readonly shown: Int32Array;
  /** Whether the whole cycle is there. */
  readonly whole: boolean;
}

/** What the boards of one clock show together, slot by slot, until all of them are back where they began. */
function slotsOf(scenario: Scenario, wiring: readonly BoardWiring[], clock: number): Slots {
  const { sequence } = wiring[clock]!;
  const holds = Array.from({ length: sequence.steps }, (_, s) => sequence.hold(s));
  const slots = Array.from({ length: MOST_SLOTS }, (_, i) => i + 1).find((n) => holds.every((hold) => Number.isInteger(hold * n))) ?? MOST_SLOTS;
  const boards = followersOf(scenario, clock);
  const step = new Int32Array(scenario.boards.length);
  const pulse = (b: number): void => {
    step[b] = (step[b]! + 1) % wiring[b]!.sequence.steps;
    if (step[b] === 0) for (const follower of scenario.boards.keys()) if (isClockedBy(scenario, follower, b)) pulse(follower);
  };
  const numbers = new Map<string, number>();
  const shown: number[] = [];
  do {
    const houses = new Set(boards.flatMap((b) => wiring[b]!.patterns[wiring[b]!.patternAt[step[b]!]!]!));
    const key = [...houses].sort((a, b) => a - b).join();
    const number = numbers.get(key) ?? numbers.size;
    numbers.set(key, number);
    for (let slot = Math.max(1, Math.round(holds[step[clock]!]! * slots)); slot > 0; slot--) shown.push(number);
    pulse(clock);
  } while (boards.some((b) => step[b] !== 0) && shown.length < MOST_LENGTH);
  return { slots, shown: Int32Array.from(shown), whole: boards.every((b) => step[b] === 0) };
}

/** A board and all that its carry clocks; those that step at random, or hang on one that does, are taken for ever changing. */
function followersOf(scenario: Scenario, clock: number): number[] {
  const shuffled = (b: number): boolean => scenario.boards[b]!.counter.kind === "shuffle";
  const next = shuffled(clock) ? [] : [...scenario.boards.keys()].filter((b) => isClockedBy(scenario, b, clock) && !shuffled(b));
  return [clock, ...next.flatMap((b) => followersOf(scenario, b))];
}

function isClockedBy({ boards }: Scenario, board: number, source: number): boolean {
  const { timer } = boards[board]!;
  return timer.kind === "carry" && timer.from === source;
}

/** Share of the slots that show the same `lag` slots later, for each lag up to `lags`. */
function alikeTable(shown: Int32Array, lags: number, whole: boolean): Float64Array {
  const count = shown.length;
  const most = whole ? Math.min(lags, count) : Math.min(lags, count - 1);
  const stride = Math.max(1, Math.ceil((count * most) / MOST_WORK));
  return Float64Array.from({ length: most + 1 }, (_, lag) => {
    const end = whole ? count : count - lag;
    let same = 0;
    let looked = 0;
    for (let slot = 0; slot < end; slot += stride) {
      const later = slot + lag;
      if (shown[slot] === shown[later < count ? later : later - count]) same++;
      looked++;
    }
    return same / looked;
  });
}

/**
 * The same for a board that goes to any other of n rows at random: after k steps it is at its row again with the
 * probability 1/n + (1 − 1/n)·(−1/(n − 1))^k, and at each other row with equal chance, which may look the same.
 */
function shuffledTable({ sequence, patternAt }: BoardWiring, lags: number): Float64Array {
  const rows = sequence.steps;
  let twins = 0;
  for (let a = 0; a < rows; a++) for (let b = 0; b < rows; b++) if (a !== b && patternAt[a] === patternAt[b]) twins++;
  const other = twins / (rows * (rows - 1));
  return Float64Array.from({ length: Math.min(lags, 1000) + 1 }, (_, k) => {
    const back = 1 / rows + (1 - 1 / rows) * (-1 / (rows - 1)) ** k;
    return back + (1 - back) * other;
  });
}
