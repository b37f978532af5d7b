import type { Scenario } from "../model/scenario.js";
import { gather, type GatherOptions } from "./gather.js";
import { summarise, type Spread } from "./summary.js";

export { buildOf, builds } from "../builds/draw.js";
export { wilson } from "../statistics/intervals.js";
export { stepSources } from "../builds/sources.js";
export type { Spread } from "./summary.js";

/**
 * Draws builds 1 … `builds` and simulates them. Every number comes out the same whatever the number of workers. Throws
 * RunTooLongError for a scenario or a build that is too long to simulate, RangeError for numbers below 1.
 * Step times are seconds; figures have their unit beside them.
 *
 * @example
 * ```ts
 * import { readScenario, spread } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const { builds, partial } = await spread(scenario, { builds: 5, workers: 1 });
 * console.log(builds, partial); // 5 false
 * ```
 */
export async function spread(scenario: Scenario, options: GatherOptions): Promise<Spread> {
  for (const name of ["builds", "workers"] as const) {
    if (!Number.isInteger(options[name]) || options[name] < 1) throw new RangeError(`${name} must be a whole number from 1 on`);
  }
  const gathered = await gather(scenario, options);
  return summarise(scenario, gathered.filter((row) => row !== undefined), options.builds, options.curves ?? false);
}
