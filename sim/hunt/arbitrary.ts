import fc from "fast-check";
import type { Scenario } from "../model/scenario.js";
import type { Build } from "../timers/build.js";
import { ShiftableParts, type Shifts } from "./shifts.js";

/** Deviations are drawn in thousandths of the way to a limit. */
const GRAIN = 1000;

/** Candidates: every part anywhere inside its tolerance, shrinking towards nominal. */
export function arbitraryShifts(shiftable: ShiftableParts): fc.Arbitrary<Shifts> {
  const one = fc.integer({ min: -GRAIN, max: GRAIN }).map(
    (thousandths) => thousandths / GRAIN,
    (moved) => {
      const thousandths = Math.round((moved as number) * GRAIN);
      if (Math.abs(thousandths) > GRAIN) throw new Error("outside the tolerance");
      return thousandths;
    },
  );
  return fc.tuple(...shiftable.parts.map(() => one));
}

/**
 * Builds of a scenario for property tests with fast-check: every part anywhere inside its tolerance, evenly. A failing
 * build shrinks towards nominal parts.
 * Deviations are shares of the tolerance, −1 … +1. Throws nothing.
 *
 * @example
 * ```ts
 * import fc from "fast-check";
 * import { arbitraryBuild, boardTimes, readScenario } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * fc.assert(
 *   fc.property(arbitraryBuild(scenario), (build) => boardTimes(scenario, build).every(({ stepSeconds }) => stepSeconds > 0)),
 *   { numRuns: 20 },
 * );
 * ```
 */
export function arbitraryBuild(scenario: Scenario): fc.Arbitrary<Build> {
  const shiftable = new ShiftableParts(scenario);
  return arbitraryShifts(shiftable).map(
    (shifts) => shiftable.build(shifts),
    (build) => shiftable.shiftsOf(build as Build),
  );
}
