import { simulator } from "../engine/simulate.js";
import { judge, type Verdict } from "../promises/judge.js";
import { Measures } from "../promises/measures.js";
import { stepTimes } from "../promises/steps.js";
import type { Promised, Scenario } from "../scenario/model.js";
import { refuseWildBuild } from "../spread/limits.js";
import type { Build } from "../timers/build.js";

/** Judges one promise of a scenario on any build; it simulates only where the promise is about what can be seen. */
export function judgeOf(scenario: Scenario, promised: Promised): (build: Build) => Verdict {
  const steps = stepTimes(scenario);
  const run = simulator(scenario);
  const trace = promised.kind === "ratings";
  return (build) => {
    const boards = steps(build);
    return judge(promised, {
      steps: boards,
      get measures() {
        refuseWildBuild(scenario, boards, build.number);
        return new Measures(run({ build, trace }), build);
      },
    });
  };
}

/**
 * A predicate for property tests: whether a build of the scenario keeps the promise with this place in the list of
 * promises, from 0. Throws RangeError where there is no such promise.
 */
export function keepsPromise(scenario: Scenario, promise: number): (build: Build) => boolean {
  const promised = scenario.promises[promise];
  if (promised === undefined) throw new RangeError(`the scenario makes ${scenario.promises.length} promises; there is no number ${promise}`);
  const judged = judgeOf(scenario, promised);
  return (build) => judged(build).kept;
}
