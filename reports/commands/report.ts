import { basename, extname, join } from "node:path";
import { InvalidArgumentError } from "commander";
import { figures } from "../../sim/figures/index.js";
import { simulate } from "../../sim/engine/simulate.js";
import { checkPromises } from "../../sim/promises/index.js";
import { ratingNotes, ratings } from "../../sim/ratings/index.js";
import { readScenario } from "../../sim/scenario/file.js";
import { UsageError } from "../output/errors.js";
import { writeFiles } from "../output/files.js";
import { runJson } from "../output/json.js";
import { VERSION } from "../output/version.js";
import { commandWithExample, type MakeCommand } from "./command.js";

interface Options {
  readonly out?: string;
  readonly day: number;
}

/** `lampdrift report`: the committee's report, pictures, figures and tables in one directory. */
export const reportCommand: MakeCommand = () =>
  commandWithExample("report", "write the committee's report", "lampdrift report harbour.yaml -o out/harbour")
    .argument("<FILE>", "scenario file")
    .option("-o, --out <DIR>", "directory to write into (default: out/ and the name of the file)")
    .option("--day <N>", "opening that the timeline shows", dayNumber, 1)
    .action(async (file: string, { out, day }: Options) => {
      const scenario = await readScenario(file);
      if (day > scenario.opening.run) {
        throw new UsageError(`--day ${day}: the scenario runs for ${scenario.opening.run} openings; expected 1 to ${scenario.opening.run}`);
      }
      const record = simulate(scenario, { trace: true });
      const found = figures(record);
      // drawing needs a document, which takes longer to load than everything else together
      const { buildReport } = await import("../page/report.js");
      const files = await buildReport({
        scenario,
        record,
        figures: found,
        ratings: ratings(scenario, record),
        notes: ratingNotes(scenario, record),
        promises: checkPromises(record),
        version: VERSION,
        day,
      });
      files.set("figures.json", `${JSON.stringify(runJson(scenario, found), null, 2)}\n`);
      const directory = out ?? join("out", basename(file, extname(file)));
      await writeFiles(directory, files);
      process.stderr.write(`wrote ${join(directory, "index.html")} and ${files.size - 1} files beside it\n`);
    });

function dayNumber(text: string): number {
  const day = Number(text);
  if (!Number.isSafeInteger(day) || day < 1) throw new InvalidArgumentError("Expected a whole number from 1.");
  return day;
}
