/** What each kind of counter has on at each of its steps. Steps and outputs count from 0. */
import type { Counter } from "./spec.js";

/** The number of steps in a cycle. */
export function cycleLength(counter: Counter): number {
  switch (counter.kind) {
    case "ring":
      return counter.steps;
    case "johnson":
      return 2 * counter.stages;
    case "binary":
      return 2 ** counter.bits;
    case "lfsr":
      return 2 ** counter.bits - 1;
    case "table":
      return counter.steps.length;
  }
}

/** The outputs that are on at a step. */
export function outputsOn(counter: Counter, step: number): number[] {
  const upTo = (n: number) => [...Array(n).keys()];
  switch (counter.kind) {
    case "ring":
      return [step];
    case "johnson":
      return step <= counter.stages ? upTo(step) : upTo(counter.stages).filter((output) => output >= step - counter.stages);
    case "binary":
      return upTo(counter.bits).filter((bit) => Math.floor(step / 2 ** bit) % 2 === 1);
    case "lfsr": {
      let stages: number[] = Array<number>(counter.bits).fill(1);
      for (let i = 0; i < step; i++) {
        const ones = counter.taps.filter((tap) => stages[tap - 1] === 1).length;
        stages = [ones % 2, ...stages.slice(0, -1)];
      }
      return upTo(counter.bits).filter((output) => stages[output] === 1);
    }
    case "table":
      return counter.steps[step]!;
  }
}

/** By what the time of a step is multiplied. */
export function holdAt(counter: Counter, step: number): number {
  return counter.kind === "table" ? counter.hold[step]! : 1;
}
