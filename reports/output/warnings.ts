import type { Scenario } from "../../sim/model/scenario.js";
import type { Io } from "./io.js";
import { visible } from "./visible.js";

/** Says what is allowed in a scenario and hardly ever meant, with its place in the file. */
export function tellWarnings({ stderr }: Io, { warnings }: Scenario): void {
  for (const { place, path, message } of warnings) stderr.write(`${visible(`${place}: warning: ${path}: ${message}`)}\n`);
}
