import type { SceneRecord } from "../engine/record.js";
import { simulate, simulator } from "../engine/simulate.js";
import { Measures } from "../figures/measures.js";
import type { Promised, Scenario } from "../model/scenario.js";
import { ratings, type Rating } from "../ratings/index.js";
import { stalledBoards, stepTimes, type BoardSteps } from "../steptimes/index.js";
import { refuseWildBuild } from "../steptimes/wild.js";
import type { Build } from "../timers/build.js";
import { kindOf } from "./kinds/index.js";

/** What is known of one build: what promises are judged on, and what is gathered over many builds. */
export interface Evidence {
  readonly steps: readonly BoardSteps[];
  /** Boards whose timer stalls: such a build is no display, and there is no use in simulating it. */
  readonly stalled: readonly string[];
  /** Whether some knob does not reach its setting and stays at the end of its track. */
  readonly outOfReach: boolean;
  /** What can be seen. The build is simulated when this is first looked at. */
  readonly measures: Measures;
  /** Its ratings at the moments of the record; a record without a trace is made again with one. */
  readonly ratings: readonly Rating[];
}

/**
 * Looks at builds of a scenario, one after the other, with what these promises need to know. What all builds share is
 * worked out once. Looking at what can be seen throws RunTooLongError for a build that is too long to simulate.
 */
export function evidenceOf(scenario: Scenario, promises: readonly Promised[]): (build: Build) => Evidence {
  const steps = stepTimes(scenario);
  const run = simulator(scenario);
  // Only ratings need to know which outputs were on together
  const trace = promises.some((promised) => kindOf(promised).needs === "trace");
  return (build) => {
    const boards = steps(build);
    return gathered(boards, build, () => {
      refuseWildBuild(scenario, boards, build.number);
      return run({ build, trace });
    });
  };
}

/** The evidence of a record that is already there, of the build that it shows. */
export function evidenceIn(record: SceneRecord, build: Build): Evidence {
  return gathered(stepTimes(record.scenario)(build), build, () => record);
}

function gathered(steps: readonly BoardSteps[], build: Build, recorded: () => SceneRecord): Evidence {
  let measures: Measures | undefined;
  let rows: readonly Rating[] | undefined;
  return {
    steps,
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
