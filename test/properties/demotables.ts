import { readFileSync } from "node:fs";
import { join } from "node:path";
import { faultTable } from "../../sim/faults/index.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { thorough } from "../thorough.js";

/** The fault tables of the demos, worked out once for all files that a worker runs. */
export const demoTables = ["tidewater-lane", "twin-boards", "workshop"].map((name) => ({
  name,
  table: faultTable(parseScenario(readFileSync(join(import.meta.dirname, "../../scenarios", `${name}.yaml`), "utf8"), `${name}.yaml`)),
}));

/** Those in which fault after fault is planted: of boards that free-run beside each other the twins show as much as Tidewater Lane does. */
export const plantedIn = thorough ? demoTables : demoTables.filter(({ name }) => name !== "tidewater-lane");
