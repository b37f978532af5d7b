import type { Scenario } from "../model/scenario.js";
import type { OpenHours } from "./calendar.js";
import type { Chances } from "./chances.js";
import type { SceneFinder } from "./scenefinder.js";
import type { StepClock } from "./stepclock.js";
import type { BoardWiring } from "./wiring.js";
import type { Micros } from "../units/time.js";

/** Takes what a run shows, in the order of time. */
export interface SceneTaker {
  /** An opening begins. */
  open(): void;
  /** This scene is shown from t on; it may be the one before. */
  look(t: Micros, scene: number): void;
  /** The opening ends. */
  close(hours: OpenHours): void;
}

/** When one board begins anew although nobody switched it off: microseconds, rising. */
export interface Restarts {
  readonly board: number;
  readonly moments: readonly Micros[];
}

/** Everything a run needs, whichever loop it takes. */
export interface RunParts {
  readonly scenario: Scenario;
  readonly hours: readonly OpenHours[];
  readonly wiring: readonly BoardWiring[];
  /** Indices of boards that never leave the step where they woke. */
  readonly still: ReadonlySet<number>;
  readonly restarts: Restarts;
  /** Null for boards that are clocked by another's carry, or stand still. */
  readonly clocks: readonly (StepClock | null)[];
  readonly chances: Chances;
  readonly finder: SceneFinder;
  readonly recorder: SceneTaker;
}
