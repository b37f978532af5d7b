import type { HuntResult } from "../../sim/hunt/index.js";
import { readScenario } from "../../sim/scenario/file.js";
import { Exit } from "../output/errors.js";
import { printJson } from "../json/print.js";
import { progressBar } from "../output/progress.js";
import { print } from "../terminal/layout.js";
import { tellNext } from "../terminal/next.js";
import { commandWithExample, type MakeCommand } from "./command.js";
import { withInterrupt } from "./interrupt.js";
import { wholeFrom, workersOption } from "./options.js";

interface Options {
  readonly tries: number;
  readonly workers: number;
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
    .addOption(workersOption())
    .option("--json", "print one JSON object and nothing else")
    .action(async (file: string, { tries, workers, json = false }: Options) => {
      const scenario = await readScenario(file, io);
      const { hunt } = await import("../../sim/hunt/index.js");
      const { threads } = await import("../../sim/crew/threads.js");
      const bar = progressBar(io, "builds", tries);
      const { promises, stopped } = await withInterrupt(io, async (signal) => ({
        promises: await hunt(scenario, { tries, hire: threads(workers), signal, progress: bar.update }),
        stopped: signal.aborted,
      }));
      bar.stop();
      if (json) printJson(io, "hunt", { promises, stopped });
      else if (promises.length === 0) print(io.stdout, ["No promises are made, so there is nothing to break."]);
      else print(io.stdout, [scenario.title, ...(stopped ? [STOPPED] : []), ...inWords(promises)]);
      if (!json) tellNext(io.stdout, nextAfter(file, promises));
      if (stopped) finish(Exit.Stopped);
      else if (promises.some(({ broken }) => broken)) finish(Exit.Broken);
    });

/** Each broken promise in a line; those that are kept together, since what that means is the same for all. */
function inWords(promises: readonly HuntResult[]): string[] {
  const kept = promises.filter(({ broken }) => !broken);
  const [first] = kept;
  if (first === undefined || kept.length === 1) return promises.map(({ sentence }) => sentence);
  return [
    ...promises.filter(({ broken }) => broken).map(({ sentence }) => sentence),
    `${kept.length === promises.length ? "All promises are" : "The other promises are"} kept. No build that breaks one of them ` +
      `was found in ${first.tries}:`,
    ...kept.map(({ text }) => `- ${text}`),
    first.meaning!,
  ];
}

const STOPPED = "Stopped early: this is the best so far. There may be plainer builds, and builds that break what none has broken yet.";

function nextAfter(file: string, promises: readonly { readonly broken: boolean }[]): string {
  if (promises.length === 0) return `write into ${file} what you promise (key promises).`;
  return promises.some(({ broken }) => broken)
    ? `lampdrift hunt ${file} --json > build.json, then lampdrift run ${file} --build build.json shows it.`
    : `lampdrift report ${file} writes it for the committee.`;
}
