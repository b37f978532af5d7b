import { evidenceOf } from "../promises/evidence.js";
import { isKept } from "../promises/judge.js";
import type { Scenario } from "../model/scenario.js";
import type { Build } from "../timers/build.js";

/**
 * A predicate for property tests: whether a build of the scenario keeps the promise with this place in the list of
 * promises, from 0. Throws RangeError where there is no such promise.
 * Deviations are shares of the tolerance, −1 … +1.
 *
 * @example
 * ```ts
 * import { keepsPromise, NOMINAL, readScenario } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const kept = keepsPromise(scenario, 0);
 * console.log(kept(NOMINAL)); // false
 * ```
 */
export function keepsPromise(scenario: Scenario, promise: number): (build: Build) => boolean {
  const promised = scenario.promises[promise];
  if (promised === undefined) throw new RangeError(`the scenario makes ${scenario.promises.length} promises; there is no number ` +
    `${promise}`);
  const evidence = evidenceOf(scenario, [promised]);
  return (build) => isKept(promised, evidence(build));
}
