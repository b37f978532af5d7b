import type { End } from "./model.js";

/** An output that starts the round again by resetting the counter. */
export interface Round {
  readonly from: End;
  readonly steps: number;
}

/** A counter as chips: where its pulses go in, its outputs come out, and what resets it. */
export interface CounterChips {
  /** Takes the clock. */
  readonly clock: End;
  /** The terminal of each output, by its number. */
  readonly outputs: readonly End[];
  /** Outputs to which the counter's own logic listens, so that a driver must not load them too much. */
  readonly heard: ReadonlySet<number>;
  /** Inputs that start the counter at its first step. */
  readonly resets: readonly End[];
  /** What starts the round again before the chip would by itself; null where nothing need be done. */
  readonly round: Round | null;
  /** Makes the terminal that rises as the counter comes back to its first step. */
  carry(): End;
  /** What has to be known about this counter. */
  readonly remarks: readonly string[];
}

/** How a counter is asked for. */
export interface Asked {
  /** True: it counts the falling edge, as a divider gives it. */
  readonly falling: boolean;
  /** True: it starts at its first step at every switch-on. */
  readonly resets: boolean;
}
