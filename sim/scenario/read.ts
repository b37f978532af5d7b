import { z } from "zod";
import type { Assumption, Scenario } from "./model.js";
import { toProblems } from "./issues.js";
import { ScenarioError, type Problem } from "./problems.js";
import { resolve } from "./resolve.js";
import { scenarioSchema } from "./schema.js";
import { Source } from "./source.js";

/**
 * Reads the text of a scenario file; `file` is its name, for messages and reports.
 * Throws {@link ScenarioError} with all problems of the file: syntax alone where the text is no YAML, else every
 * wrong key, value and reference.
 */
export function parseScenario(text: string, file: string): Scenario {
  return scenarioOf(Source.parse(text, file));
}

/** As {@link parseScenario}, for a source already read. */
export function scenarioOf(source: Source): Scenario {
  const problems: Problem[] = [];
  const shape = scenarioSchema.safeParse(source.data);
  if (!shape.success) problems.push(...toProblems(source, shape.error.issues));
  const assumptions: Assumption[] = [];
  const scenario = resolve(source, problems, assumptions);
  if (problems.length > 0 || scenario === undefined) throw new ScenarioError(source.file, problems);
  return scenario;
}

/** The JSON Schema of the scenario file, for editors that complete and check. */
export function scenarioJsonSchema(): unknown {
  return {
    title: "lampdrift scenario, format 1",
    ...z.toJSONSchema(scenarioSchema, { io: "input", unrepresentable: "any" }),
  };
}
