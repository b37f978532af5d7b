import type { Job } from "../crew/crew.js";
import type { Scenario } from "../model/scenario.js";
import { rowsOf, type Chunk } from "./chunk.js";
import { rows } from "./evaluate.js";

interface Drawing {
  readonly scenario: Scenario;
  readonly curves: boolean;
}

/** The rows of a few builds. */
export const job: Job<Drawing, Chunk, Float64Array> = {
  module: import.meta.url,
  prepare: ({ scenario, curves }) => {
    const evaluate = rows(scenario, curves);
    return (chunk) => rowsOf(evaluate, chunk);
  },
};
