import type { Assumption, Scenario } from "../model/scenario.js";
import { readAsMeant } from "./misspelt.js";
import { parseSource } from "./parse.js";
import { ScenarioError, type Problem } from "./problems.js";
import { resolve } from "./resolve.js";
import type { Source } from "./source.js";

/**
 * Reads the text of a scenario file; `file` is its name, for messages and reports.
 * Throws {@link ScenarioError} with all problems of the file: the first of syntax alone where the text is no YAML, else every
 * wrong key, value and reference. A text that names a base is refused, since other files are not looked at here.
 *
 * @example
 * ```ts
 * import { parseScenario } from "lampdrift";
 *
 * const scenario = parseScenario(
 *   `
 * lampdrift: 1
 * title: One inn
 * houses: { inn: }
 * boards:
 *   quay: { timer: { kind: quartz, step: 40 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: inn } }
 * `,
 *   "inn.yaml",
 * );
 * console.log(scenario.boards.map(({ id }) => id)); // [ 'quay' ]
 * ```
 */
export function parseScenario(text: string, file: string): Scenario {
  const source = parseSource(text, file);
  if (source.base !== undefined) {
    const message = `found ${source.found(["base"])}; this reads one text alone, without the file that it is based on: read it ` +
      "from its file";
    throw new ScenarioError(file, [source.problem(["base"], "value", message)]);
  }
  return scenarioOf(source);
}

/** As {@link parseScenario}, for a source already read, with the one it is based on, if any, below it. */
export function scenarioOf(source: Source): Scenario {
  const read = readAsMeant(source);
  const problems: Problem[] = [...source.mended, ...read.problems];
  const assumptions: Assumption[] = [];
  const scenario = resolve(read.source, problems, assumptions);
  if (problems.length > 0 || scenario === undefined) throw new ScenarioError(source.file, withoutConsequences(source, problems));
  return scenario;
}

/** What is wrong with a line that has a slip may come of how that was put right. */
function withoutConsequences({ file, mended }: Source, problems: readonly Problem[]): Problem[] {
  const place = (problem: Problem): string => `${problem.file ?? file}:${problem.line}`;
  const slipped = new Set(mended.filter(({ path }) => path.length === 0).map(place));
  return problems.filter((problem) => mended.includes(problem) || !slipped.has(place(problem)));
}

export { scenarioJsonSchema } from "./editorschema.js";
