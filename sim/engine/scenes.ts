import { JointMasks } from "./jointmasks.js";
import { JointTable } from "./jointtable.js";
import { MaskTable } from "./masktable.js";
import type { SceneFinder } from "./scenefinder.js";
import { ScenePlan } from "./sceneplan.js";
import type { BoardWiring } from "./wiring.js";

/** Up to so many combinations of patterns a table has an entry for each, however short the run. */
const SMALL_TABLE = 2 ** 16;
/** A larger table may have so many entries for each pulse that is expected. */
const ENTRIES_PER_PULSE = 8;
const LARGEST_TABLE = 2 ** 26;

/** Makes finders for the runs of one display; what all runs share is worked out once. */
export function sceneFinders(houses: number, wiring: readonly BoardWiring[]): (expectedPulses: number) => SceneFinder {
  const plan = new ScenePlan(houses, wiring);
  const masks = plan.combinations <= LARGEST_TABLE ? new JointMasks(plan) : null;
  return (pulses) =>
    masks !== null && plan.combinations <= Math.max(SMALL_TABLE, ENTRIES_PER_PULSE * pulses)
      ? new JointTable(plan, masks)
      : new MaskTable(plan);
}
