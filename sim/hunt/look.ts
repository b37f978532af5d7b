import type { Job } from "../crew/crew.js";
import { RunTooLongError } from "../engine/limits.js";
import { evidenceOf } from "../promises/evidence.js";
import { isKept } from "../promises/judge.js";
import type { Scenario } from "../model/scenario.js";
import { ShiftableParts, type Shifts } from "./shifts.js";

/** Builds to look at, and promises to hold against them, by their places in the list of promises. */
export interface Look {
  readonly builds: readonly Shifts[];
  readonly promises: readonly number[];
}

/** What was seen of one build: which of the promises it breaks, or why it cannot be simulated. */
export type Seen = { readonly broken: readonly number[] } | { readonly tooLong: string };

/** Looks at builds, one after the other. */
export const job: Job<Scenario, Look, readonly Seen[]> = {
  module: import.meta.url,
  prepare: (scenario) => {
    const shiftable = new ShiftableParts(scenario);
    const all = evidenceOf(scenario, scenario.promises);
    const each = scenario.promises.map((promised) => evidenceOf(scenario, [promised]));
    return ({ builds, promises }) => {
      const evidence = promises.length === 1 ? each[promises[0]!]! : all;
      return builds.map((shifts) => {
        try {
          const found = evidence(shiftable.build(shifts));
          return { broken: promises.filter((p) => !isKept(scenario.promises[p]!, found)) };
        } catch (error) {
          if (error instanceof RunTooLongError) return { tooLong: error.message };
          throw error;
        }
      });
    };
  },
};
