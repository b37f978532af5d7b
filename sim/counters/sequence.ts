import { mean } from "d3-array";
import type { Counter } from "../model/scenario.js";
import { lfsrStates } from "./lfsr.js";

/** What a counter does, whatever its kind: its steps once round, and the outputs that are on at each. */
export interface Sequence {
  readonly steps: number;
  /** Number of outputs the counter has. */
  readonly outputs: number;
  /** Outputs on at step s, ascending. */
  on(step: number): readonly number[];
  /** Factor on the step time at step s. */
  hold(step: number): number;
  /** True: a pulse goes to any other step at random, not to the next. */
  readonly shuffled: boolean;
}

/**
 * The sequence of a counter. Ring counters as the 4017 (each output high for one clock period, one at a time),
 * Johnson (twisted ring), binary ripple, and linear feedback shift registers.
 */
export function sequence(counter: Counter): Sequence {
  switch (counter.kind) {
    case "ring":
      return plain(counter.steps, counter.steps, (s) => [s]);
    case "johnson": {
      const n = counter.stages;
      return plain(2 * n, n, (s) => (s <= n ? range(0, s) : range(s - n, n)));
    }
    case "binary":
      return plain(2 ** counter.bits, counter.bits, (s) => bitsOf(s));
    case "lfsr": {
      const states = lfsrStates(counter.bits, counter.taps);
      return plain(states.length, counter.bits, (s) => bitsOf(states[s]!));
    }
    case "table":
      return { ...rows(counter.steps), hold: (s) => counter.hold[s]! };
    case "shuffle":
      return { ...rows(counter.steps), shuffled: true };
  }
}

/** How long the steps of a counter are held, as factors on the step time: the least, the mean and the most over its steps. */
export function holds(counter: Counter): { readonly least: number; readonly mean: number; readonly most: number } {
  if (counter.kind !== "table") return { least: 1, mean: 1, most: 1 };
  return { least: Math.min(...counter.hold), mean: mean(counter.hold)!, most: Math.max(...counter.hold) };
}

/** Whether every step of a counter lasts one step time, none held for longer or less. */
export function isEven(counter: Counter): boolean {
  const { least, most } = holds(counter);
  return least === 1 && most === 1;
}

function plain(steps: number, outputs: number, on: (step: number) => number[]): Sequence {
  return { steps, outputs, on, hold: () => 1, shuffled: false };
}

function rows(steps: readonly (readonly number[])[]): Sequence {
  const outputs = 1 + Math.max(-1, ...steps.map((row) => Math.max(-1, ...row)));
  const sorted = steps.map((row) => [...new Set(row)].sort((a, b) => a - b));
  return { steps: steps.length, outputs, on: (s) => sorted[s]!, hold: () => 1, shuffled: false };
}

function range(from: number, end: number): number[] {
  return Array.from({ length: end - from }, (_, i) => from + i);
}

function bitsOf(state: number): number[] {
  const on: number[] = [];
  for (let i = 0; state >> i > 0; i++) if ((state >> i) & 1) on.push(i);
  return on;
}

/** Steps at which the sequence counts as come back to its start, in unit step times: what one cycle lasts. */
export function cycleUnits(seq: Sequence): number {
  let units = 0;
  for (let s = 0; s < seq.steps; s++) units += seq.hold(s);
  return units;
}
