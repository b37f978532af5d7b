import { simulator } from "../engine/simulate.js";
import { judge, type Evidence } from "../promises/judge.js";
import { Measures } from "../promises/measures.js";
import { stepTimes } from "../steptimes/index.js";
import type { Promised, Scenario } from "../model/scenario.js";
import { refuseWildBuild } from "../spread/limits.js";
import type { Build } from "../timers/build.js";

/**
 * What the promises of a scenario are judged on, for any build. It is simulated when a promise first asks for what can be
 * seen, and once for all of them.
 */
export function evidenceOf(scenario: Scenario, promises: readonly Promised[]): (build: Build) => Evidence {
  const steps = stepTimes(scenario);
  const run = simulator(scenario);
  const trace = promises.some(({ kind }) => kind === "ratings");
  return (build) => {
    const boards = steps(build);
    let measures: Measures | undefined;
    return {
      steps: boards,
      get measures() {
        if (measures === undefined) refuseWildBuild(scenario, boards, build.number);
        return (measures ??= new Measures(run({ build, trace }), build));
      },
    };
  };
}

/**
 * A predicate for property tests: whether a build of the scenario keeps the promise with this place in the list of
 * promises, from 0. Throws RangeError where there is no such promise.
 */
export function keepsPromise(scenario: Scenario, promise: number): (build: Build) => boolean {
  const promised = scenario.promises[promise];
  if (promised === undefined) throw new RangeError(`the scenario makes ${scenario.promises.length} promises; there is no number ${promise}`);
  const evidence = evidenceOf(scenario, [promised]);
  return (build) => judge(promised, evidence(build)).kept;
}
