import { sequence, type Sequence } from "../counters/sequence.js";
import type { Board, Scenario } from "../model/scenario.js";

/** What a board's counter lights: a *pattern* is the set of houses that the board lights at some of its steps. */
export interface BoardWiring {
  readonly sequence: Sequence;
  /** Pattern number at each step. */
  readonly patternAt: Int32Array;
  /** Houses of each pattern, ascending. */
  readonly patterns: readonly (readonly number[])[];
}

/** The wiring of every board, worked out once for all builds of a scenario. */
export function wire(scenario: Scenario): BoardWiring[] {
  return scenario.boards.map(wireBoard);
}

function wireBoard(board: Board): BoardWiring {
  const seq = sequence(board.counter);
  const patternAt = new Int32Array(seq.steps);
  const patterns: number[][] = [];
  const known = new Map<string, number>();
  for (let step = 0; step < seq.steps; step++) {
    const houses = litBy(board, seq.on(step));
    const key = houses.join();
    let pattern = known.get(key);
    if (pattern === undefined) {
      pattern = patterns.push(houses) - 1;
      known.set(key, pattern);
    }
    patternAt[step] = pattern;
  }
  return { sequence: seq, patternAt, patterns };
}

function litBy(board: Board, outputs: readonly number[]): number[] {
  const houses = new Set<number>();
  for (const output of outputs) for (const load of board.outputs[output] ?? []) houses.add(load.house);
  return [...houses].sort((a, b) => a - b);
}

/** Number of the first step of each board, the steps of all being numbered through; behind the last board how many there are. */
export function firstSteps(wiring: readonly BoardWiring[]): Int32Array {
  const first = new Int32Array(wiring.length + 1);
  wiring.forEach(({ patternAt }, b) => (first[b + 1] = first[b]! + patternAt.length));
  return first;
}
