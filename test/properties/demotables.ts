import { readFileSync } from "node:fs";
import { join } from "node:path";
import { faultTable } from "../../sim/faults/index.js";
import { parseScenario } from "../../sim/scenario/read.js";

/** The fault tables of the demos, worked out once for all files that a worker runs. */
export const demoTables = ["tidewater-lane", "twin-boards", "workshop"].map((name) => ({
  name,
  table: faultTable(parseScenario(readFileSync(join(import.meta.dirname, "../../scenarios", `${name}.yaml`), "utf8"), `${name}.yaml`)),
}));
