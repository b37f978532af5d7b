import FlatQueue from "flatqueue";
import { normal } from "../../sim/random/normal.js";
import { stream } from "../../sim/random/streams.js";

/** What the loops record: spells by start and scene, and the lit houses of each scene as a mask of two words. */
export interface Shown {
  readonly start: Float64Array;
  readonly scene: Int32Array;
  readonly spells: number;
  readonly scenes: number;
}

/**
 * The display of `tenYears`, and nothing else: three boards of ten steps with jitter. Written by hand as one would for this
 * one display: everything in local variables, scenes by a table of a thousand.
 */
export function threeBoards(steps: readonly [number, number, number], until: number, expected: number): Shown {
  const [a, b, c] = ["a", "b", "c"].map((id) => stream("lampdrift", 0, id, "jitter")) as [Source, Source, Source];
  const start = new Float64Array(expected);
  const scene = new Int32Array(expected);
  const table = new Int32Array(1000);
  let scenes = 0;
  let spells = 0;
  let stepA = 0;
  let stepB = 0;
  let stepC = 0;
  const [lengthA, lengthB, lengthC] = steps;
  let nextA = stepTime(a, lengthA);
  let nextB = stepTime(b, lengthB);
  let nextC = stepTime(c, lengthC);
  for (let now = 0; now < until; ) {
    const joint = stepA + 10 * stepB + 100 * stepC;
    let shown = table[joint]!;
    if (shown === 0) table[joint] = shown = ++scenes;
    start[spells] = now;
    scene[spells++] = shown - 1;
    now = nextA < nextB ? (nextA < nextC ? nextA : nextC) : nextB < nextC ? nextB : nextC;
    if (now === nextA) {
      stepA = stepA === 9 ? 0 : stepA + 1;
      nextA += stepTime(a, lengthA);
    }
    if (now === nextB) {
      stepB = stepB === 9 ? 0 : stepB + 1;
      nextB += stepTime(b, lengthB);
    }
    if (now === nextC) {
      stepC = stepC === 9 ? 0 : stepC + 1;
      nextC += stepTime(c, lengthC);
    }
  }
  return { start, scene, spells, scenes };
}

type Source = ReturnType<typeof stream>;
const JITTER = 0.005;

function stepTime(source: Source, seconds: number): number {
  let z = normal(source);
  while (z < -4 || z > 4) z = normal(source);
  return Math.floor(seconds * (1 + JITTER * z) * 1e6 + 0.5);
}

/** The same with a general event queue, an event being a closure that puts in its next. */
export function threeBoardsQueued(steps: readonly [number, number, number], until: number, expected: number): Shown {
  const queue = new FlatQueue<() => void>();
  const start = new Float64Array(expected);
  const scene = new Int32Array(expected);
  const table = new Int32Array(1000);
  const at = [0, 0, 0];
  let now = 0;
  steps.forEach((length, board) => {
    const source = stream("lampdrift", 0, "abc"[board]!, "jitter");
    const pulse = (): void => {
      at[board] = (at[board]! + 1) % 10;
      queue.push(pulse, now + stepTime(source, length));
    };
    queue.push(pulse, stepTime(source, length));
  });
  let scenes = 0;
  let spells = 0;
  while (now < until) {
    const joint = at[0]! + 10 * at[1]! + 100 * at[2]!;
    if (table[joint] === 0) table[joint] = ++scenes;
    start[spells] = now;
    scene[spells++] = table[joint]! - 1;
    now = queue.peekValue()!;
    while (queue.peekValue() === now) queue.pop()!();
  }
  return { start, scene, spells, scenes };
}
