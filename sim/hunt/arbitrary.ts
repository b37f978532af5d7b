import fc from "fast-check";
import type { Scenario } from "../model/scenario.js";
import type { Build } from "../timers/build.js";
import { Bench, type Candidate } from "./shifts.js";

/** Deviations are drawn in thousandths of the way to a limit. */
const GRAIN = 1000;

/** Candidates: every part anywhere inside its tolerance, shrinking towards nominal. */
export function arbitraryCandidate(bench: Bench): fc.Arbitrary<Candidate> {
  const one = fc.integer({ min: -GRAIN, max: GRAIN }).map(
    (thousandths) => thousandths / GRAIN,
    (moved) => {
      const thousandths = Math.round((moved as number) * GRAIN);
      if (Math.abs(thousandths) > GRAIN) throw new Error("outside the tolerance");
      return thousandths;
    },
  );
  return fc.tuple(...bench.parts.map(() => one));
}

/**
 * Builds of a scenario for property tests with fast-check: every part anywhere inside its tolerance, evenly. A failing
 * build shrinks towards nominal parts.
 */
export function arbitraryBuild(scenario: Scenario): fc.Arbitrary<Build> {
  const bench = new Bench(scenario);
  return arbitraryCandidate(bench).map(
    (candidate) => bench.build(candidate),
    (build) => bench.candidate(build as Build),
  );
}
