import FlatQueue from "flatqueue";
import { normal } from "../../sim/random/normal.js";
import { stream } from "../../sim/random/streams.js";

/** What the loops record: spells by start and scene, and how many scenes there are. */
export interface Shown {
  readonly start: Float64Array;
  readonly scene: Int32Array;
  readonly spells: number;
  readonly scenes: number;
  /** The lit houses of each scene, two words a scene; null where the scenes are so few that it does not matter. */
  readonly masks: Int32Array | null;
}

/**
 * Three boards of ten steps with jitter, and nothing else. Written by hand as one would for this one display: everything in
 * local variables, scenes by a table of a thousand.
 */
export function threeBoards(steps: readonly [number, number, number], until: number, expected: number): Shown {
  const [a, b, c] = ["b0", "b1", "b2"].map((id) => stream("lampdrift", 0, id, "jitter")) as [Source, Source, Source];
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
  return { start, scene, spells, scenes, masks: null };
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
    const source = stream("lampdrift", 0, `b${board}`, "jitter");
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
  return { start, scene, spells, scenes, masks: null };
}

/**
 * Boards of eight houses each that step evenly, `steps` seconds a step, written by hand for them: a table of all joint positions leads to
 * the scene. Four boards' houses are a word of its mask; `patterns` are the bits that each step of each board lights.
 */
export function eightBoards(steps: readonly number[], patterns: readonly (readonly number[])[], until: number, expected: number): Shown {
  const start = new Float64Array(expected);
  const scene = new Int32Array(expected);
  const masks = new Int32Array(2 * expected);
  const table = new Int32Array(patterns.reduce((product, { length }) => product * length, 1));
  const boards = steps.length;
  const length = Float64Array.from(steps, (seconds) => seconds * 1e6);
  const next = Float64Array.from(length);
  const rings = Int32Array.from(patterns, (own) => own.length);
  const at = new Int32Array(boards);
  const weight = new Int32Array(boards).fill(1);
  for (let b = 1; b < boards; b++) weight[b] = weight[b - 1]! * rings[b - 1]!;
  let joint = 0;
  let scenes = 0;
  let spells = 0;
  for (let now = 0; now < until; ) {
    let shown = table[joint]!;
    if (shown === 0) {
      let low = 0;
      let high = 0;
      for (let b = 0; b < 4; b++) low |= patterns[b]![at[b]!]! << (8 * b);
      for (let b = 4; b < boards; b++) high |= patterns[b]![at[b]!]! << (8 * (b - 4));
      masks[2 * scenes] = low;
      masks[2 * scenes + 1] = high;
      table[joint] = shown = ++scenes;
    }
    start[spells] = now;
    scene[spells++] = shown - 1;
    now = next[0]!;
    for (let b = 1; b < boards; b++) if (next[b]! < now) now = next[b]!;
    for (let b = 0; b < boards; b++) {
      if (next[b] !== now) continue;
      next[b]! += length[b]!;
      joint += weight[b]!;
      if (++at[b]! === rings[b]!) {
        at[b] = 0;
        joint -= rings[b]! * weight[b]!;
      }
    }
  }
  return { start, scene, spells, scenes, masks };
}
