import type { BoardWiring } from "./wiring.js";

/** What is odd about a board that is not in order; what is left out is as the scenario has it. */
export interface Oddity {
  /** What it lights, and in which sequence. */
  readonly wiring?: BoardWiring;
  /** True: no pulse of any kind reaches its counter, so that it stays at the step at which it woke. */
  readonly still?: boolean;
  /** True: it stays at its last step for good. */
  readonly sticks?: boolean;
  /** The step at which it wakes at each switch-on, counted from 0. */
  readonly wake?: (switchOn: number) => number;
}

/** The boards that are not in order, by index. */
export type Oddities = ReadonlyMap<number, Oddity>;

export const IN_ORDER: Oddities = new Map();
