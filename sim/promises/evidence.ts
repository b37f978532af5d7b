import type { SceneRecord } from "../engine/record.js";
import { simulate, simulator } from "../engine/simulate.js";
import { Measures } from "../figures/measures.js";
import type { Promised, Scenario } from "../model/scenario.js";
import { ratings, ratingsHoldAnyway, type Rating } from "../ratings/index.js";
import { stalledBoards, stepTimes, type BoardSteps } from "../steptimes/index.js";
import { refuseWildBuild } from "../steptimes/wild.js";
import type { Build } from "../timers/build.js";
import { kindOf } from "./kinds/index.js";
import type { Evidence } from "./kinds/kind.js";

/**
 * Looks at builds of a scenario, one after the other, with what these promises need to know. What all builds share is
 * worked out once. What is seen of a build is gone when the next one is looked at, whose record is written over it. Looking at what can be
 * seen throws RunTooLongError for a build that is too long to simulate.
 */
export function evidenceOf(scenario: Scenario, promises: readonly Promised[]): (build: Build) => Evidence {
  const steps = stepTimes(scenario);
  const run = simulator(scenario);
  // Only ratings need to know which outputs were on together, and not even they where every build keeps them
  const traced = promises.some((promised) => kindOf(promised).needs === "trace");
  const ratingsHold = traced && ratingsHoldAnyway(scenario);
  const trace = traced && !ratingsHold;
  let last: SceneRecord | undefined;
  return (build) => {
    const boards = steps(build);
    return gathered(boards, build, ratingsHold, () => {
      refuseWildBuild(scenario, boards, build.number);
      return (last = run({ build, trace, over: last }));
    });
  };
}

/** What has been worked out of a record already. */
export interface Known {
  readonly measures?: Measures;
  readonly ratings?: readonly Rating[];
}

/** The evidence of a record that is already there, of the build that it shows. */
export function evidenceIn(record: SceneRecord, build: Build, known: Known): Evidence {
  return gathered(stepTimes(record.scenario)(build), build, false, () => record, known);
}

function gathered(steps: readonly BoardSteps[], build: Build, ratingsHold: boolean, recorded: () => SceneRecord, known: Known = {}): Evidence {
  let { measures, ratings: rows } = known;
  return {
    steps,
    ratingsHold,
    stalled: stalledBoards(steps),
    outOfReach: steps.some(({ reach }) => reach !== null && reach !== "set"),
    get measures() {
      return (measures ??= new Measures(recorded()));
    },
    get ratings() {
      if (rows !== undefined) return rows;
      const { record } = this.measures;
      const { scenario } = record;
      return (rows = ratings(scenario, record.trace === null ? simulate(scenario, { build, trace: true }) : record));
    },
  };
}
