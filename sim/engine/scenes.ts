import { JointTable } from "./jointtable.js";
import { MaskTable } from "./masktable.js";
import { ScenePlan } from "./sceneplan.js";
import type { Scenes } from "./sceneset.js";
import type { BoardWiring } from "./wiring.js";

/**
 * Tells the number of the scene that all boards show together. Scenes are numbered in order of first appearance. Boards
 * begin at step 0.
 */
export interface SceneFinder {
  /** Board b is at this step from now on. */
  move(b: number, step: number): void;
  /** Number of the scene now shown. */
  scene(): number;
  /** The scenes found so far. */
  found(): Scenes;
}

/** Up to so many combinations of patterns a table has an entry for each, however short the run. */
const SMALL_TABLE = 2 ** 16;
/** A larger table may have so many entries for each pulse that is expected. */
const ENTRIES_PER_PULSE = 8;
const LARGEST_TABLE = 2 ** 26;

/** Makes finders for the runs of one display; what all runs share is worked out once. */
export function sceneFinders(houses: number, wiring: readonly BoardWiring[]): (expectedPulses: number) => SceneFinder {
  const plan = new ScenePlan(houses, wiring);
  return (pulses) =>
    plan.combinations <= Math.min(LARGEST_TABLE, Math.max(SMALL_TABLE, ENTRIES_PER_PULSE * pulses))
      ? new JointTable(plan)
      : new MaskTable(plan);
}
