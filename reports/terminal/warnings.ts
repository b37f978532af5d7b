import type { Scenario } from "../../sim/model/scenario.js";
import type { Io } from "../output/io.js";
import { tell } from "./tell.js";

/** Says what is allowed in a scenario and hardly ever meant, with its place in the file. */
export function tellWarnings({ stderr }: Io, { warnings }: Scenario): void {
  for (const { place, path, message } of warnings) tell(stderr, `${place}: warning: ${path}: ${message}`);
}
