import type { Figures } from "../../sim/figures/index.js";
import type { Scenario } from "../../sim/model/scenario.js";
import type { Io } from "./io.js";
import { VERSION } from "./version.js";

/** Every figure of a run under the keys that other programs rely on, with what it was computed from. */
export function runJson(scenario: Scenario, figures: Figures): Record<string, unknown> {
  return {
    lampdrift: { version: VERSION, format: 1 },
    scenario: { title: scenario.title, file: scenario.file, seed: scenario.seed },
    ...figures,
  };
}

/** One JSON object as the whole of standard output. */
export function printJson({ stdout }: Io, value: unknown): void {
  stdout.write(`${JSON.stringify(value, null, 2)}\n`);
}
