import { InputError } from "../errors.js";
import { knownWords } from "../scenario/problems.js";
import type { Scenario } from "../model/scenario.js";
import { stepTimes } from "../steptimes/index.js";
import { refuseWildBuild } from "../steptimes/wild.js";
import { looseParts } from "../builds/parts.js";
import type { Build } from "../timers/build.js";

/**
 * Reads a build from JSON: an object of deviations such as {"quay.c": 0.93}, or the whole output of a hunt, of which the
 * first build that breaks a promise is taken. Throws {@link InputError} with everything that is wrong, and for a build that
 * is too long to simulate.
 *
 * @example
 * ```ts
 * import { parseBuild, readScenario } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const build = parseBuild('{ "north.c": 0.5 }', "build.json", scenario);
 * console.log(build.deviations.get("north.c")); // 0.5
 * ```
 */
export function parseBuild(json: string, file: string, scenario: Scenario): Build {
  const deviations = deviationsIn(parse(json, file), file);
  const known = looseParts(scenario).map(({ key }) => key);
  const problems = Object.entries(deviations).flatMap(([key, deviation]) => {
    if (!known.includes(key)) return [`${file}: ${key}: no part with a tolerance has this name; ${knownWords(key, known, "parts")}`];
    if (typeof deviation === "number" && Math.abs(deviation) <= 1) return [];
    return [`${file}: ${key}: found ${JSON.stringify(deviation)}; expected a share of the tolerance from -1 to 1`];
  });
  if (problems.length > 0) throw new InputError(problems.join("\n"));
  const build = { number: 0, deviations: new Map(Object.entries(deviations as Record<string, number>)) };
  refuseWildBuild(scenario, stepTimes(scenario)(build), build.number);
  return build;
}

function parse(json: string, file: string): unknown {
  try {
    return JSON.parse(json);
  } catch (error) {
    throw new InputError(`${file}: this is not JSON (${(error as Error).message})`);
  }
}

function deviationsIn(value: unknown, file: string): Record<string, unknown> {
  if (!isObject(value)) throw new InputError(`${file}: expected a mapping from part to deviation, such as {"quay.c": 0.93}`);
  if (!Array.isArray(value["promises"])) return value;
  const hunted = value["promises"].find((quarry): quarry is { build: Record<string, unknown> } => isObject(quarry) && isObject(quarry["build"]));
  if (hunted === undefined) throw new InputError(`${file}: this hunt found no build that breaks a promise, so there is none to replay`);
  return hunted.build;
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
