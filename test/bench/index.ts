import { cpus, loadavg } from "node:os";
import { parseArgs } from "node:util";
import { benchCommands } from "./commands.js";
import { benchEngine, benchFigures } from "./engine.js";
import { benchLong } from "./long.js";
import { pin, writeRows } from "./measure.js";
import { benchPage } from "./page.js";

const { values, positionals } = parseArgs({ allowPositionals: true, options: { json: { type: "string" } } });
const [what = "table", minutes = "1"] = positionals;
const started = performance.now();

console.log(`node ${process.version}, ${cpus().length} × ${cpus()[0]?.model.trim() ?? "unknown processor"}, load ${loadavg()[0]!.toFixed(1)}`);
// a browser is many processes, and its pages are for machines with several cores
if (what !== "page") console.log(pin() ? "processor time on one core, medians" : "processor time, medians; not on one core, since there is no taskset");
switch (what) {
  case "table":
    benchEngine();
    benchFigures();
    benchCommands();
    break;
  case "engine":
    benchEngine();
    benchFigures();
    break;
  case "commands":
    benchCommands();
    break;
  case "long":
    benchLong();
    break;
  case "page":
    await benchPage(Number(minutes));
    break;
  default:
    throw new Error(`"${what}": there are table (if nothing is said), engine, commands, long and page`);
}
console.log(`took ${((performance.now() - started) / 1000).toFixed(0)} s`);
if (values.json !== undefined) writeRows(values.json);
