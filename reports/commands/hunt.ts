import { readScenario } from "../../sim/scenario/file.js";
import { Exit } from "../output/errors.js";
import { printJson } from "../json/print.js";
import { progressBar } from "../output/progress.js";
import { print } from "../terminal/layout.js";
import { tellNext } from "../terminal/next.js";
import { commandWithExample, type MakeCommand } from "./command.js";
import { wholeFrom } from "./spread.js";

interface Options {
  readonly tries: number;
  readonly json?: boolean;
}

/** `lampdrift hunt`: part values inside tolerance that break a promise. */
export const huntCommand: MakeCommand = ({ io, finish }) =>
  commandWithExample(
    "hunt",
    "lampdrift hunt harbour.yaml --json > build.json",
    "lampdrift run harbour.yaml --build build.json",
  )
    .argument("<FILE>", "scenario file")
    .option("--tries <N>", "builds to look at for each promise", wholeFrom(1, 1_000_000), 2000)
    .option("--json", "print one JSON object and nothing else")
    .action(async (file: string, { tries, json = false }: Options) => {
      const scenario = await readScenario(file, io);
      const { hunt } = await import("../../sim/hunt/index.js");
      const bar = progressBar(io, "builds", tries);
      const promises = hunt(scenario, { tries, progress: bar.update });
      bar.stop();
      if (json) printJson(io, "hunt", { promises });
      else if (promises.length === 0) print(io.stdout, ["No promises are made, so there is nothing to break."]);
      else print(io.stdout, [scenario.title, ...promises.map(({ sentence }) => sentence)]);
      if (!json) tellNext(io.stdout, nextAfter(file, promises));
      if (promises.some(({ broken }) => broken)) finish(Exit.Broken);
    });

function nextAfter(file: string, promises: readonly { readonly broken: boolean }[]): string {
  if (promises.length === 0) return `write into ${file} what you promise (key promises).`;
  return promises.some(({ broken }) => broken)
    ? `lampdrift hunt ${file} --json > build.json, then lampdrift run ${file} --build build.json shows it.`
    : `lampdrift report ${file} writes it for the committee.`;
}
