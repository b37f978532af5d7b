import { availableParallelism } from "node:os";
import { billOf, compareAlternatives, type Difference } from "../../sim/compare/index.js";
import { simulate } from "../../sim/engine/simulate.js";
import { InputError } from "../../sim/errors.js";
import { figures } from "../../sim/figures/index.js";
import { checkPromises } from "../../sim/promises/index.js";
import { ratings } from "../../sim/ratings/index.js";
import { readScenario } from "../../sim/scenario/file.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { UsageError } from "../output/errors.js";
import { writeFolder } from "../output/folder.js";
import { printJson, runJson, type Told } from "../json/print.js";
import { progressBar } from "../output/progress.js";
import { VERSION } from "../output/version.js";
import { print, type Block } from "../terminal/layout.js";
import { table } from "../terminal/table.js";
import { tellNext } from "../terminal/next.js";
import { tell } from "../terminal/tell.js";
import { betterCell, figuresMean, intervalCell, meanCell } from "../page/compare/difference.js";
import { promiseCell, promiseRows, ratingsInWords, type Alternative } from "../page/compare/alternative.js";
import { counted, figureValue } from "../words.js";
import { commandWithExample, type MakeCommand, type Surroundings } from "./command.js";
import { nameFrom, wholeFrom } from "./options.js";
import { tellWritten } from "./written.js";
import { listed } from "../../sim/units/text.js";

interface Options {
  readonly builds: number;
  readonly out?: string;
  readonly json?: boolean;
}

/** Alternatives on one page; more are no help to a committee. */
const MOST = 26;
/** Builds of all files together: of each a curve is kept, 6 kB. */
const MOST_BUILDS = 200_000;

/** `lampdrift compare`: alternatives side by side, on the same draws. */
export const compareCommand: MakeCommand = ({ io }) =>
  commandWithExample(
    "compare",
    "lampdrift compare harbour.yaml harbour-slow.yaml -o out/compare",
  )
    .argument("<FILES...>", "scenario files, the first being what the others are held against")
    .option("--builds <N>", "builds to draw of each", wholeFrom(2, 100_000), 200)
    .option("-o, --out <DIR>", "write a page with the return curves into this directory", nameFrom)
    .option("--json", "print one JSON object and nothing else")
    .action(async (files: readonly string[], { builds, out, json = false }: Options) => {
      if (files.length < 2) throw new UsageError("there is one file alone; give at least two scenario files to compare");
      if (files.length > MOST) throw new UsageError(`${files.length} files are too many to compare; give at most ${MOST}`);
      if (builds * files.length > MOST_BUILDS) {
        const fits = Math.floor(MOST_BUILDS / files.length);
        throw new UsageError(`--builds: ${builds} builds of each of ${files.length} files do not fit into memory; give at most ${fits}`);
      }
      const scenarios = await readAll(files, io);
      const bar = progressBar(io, "builds", scenarios.length * builds);
      const { drawn, differences } = await compareAlternatives(scenarios, {
        builds,
        workers: Math.min(2, availableParallelism()),
        progress: bar.update,
      });
      bar.stop();
      const alternatives = scenarios.map((scenario, i): Alternative => {
        const record = simulate(scenario, { trace: true });
        return {
          letter: String.fromCharCode(65 + i),
          scenario,
          figures: figures(record),
          promises: checkPromises(record),
          ratings: ratings(scenario, record),
          bill: billOf(scenario),
          drawn: drawn[i]!,
        };
      });
      if (out !== undefined) {
        const { buildComparePage } = await import("../page/compare/page.js");
        const written = buildComparePage({ alternatives, differences, builds, version: VERSION });
        await writeFolder(out, "compare", written);
        tellWritten(io, out, "index.html", written);
      }
      if (json) {
        printJson(io, "compare", { alternatives: alternatives.map(alternativeJson), differences });
        return;
      }
      for (const remark of remarks(scenarios)) tell(io.stderr, remark);
      print(io.stdout, asText(alternatives, differences, builds));
      const page = out === undefined ? " With -o DIR it is a page to show around." : "";
      tellNext(io.stdout, `${boughtInWords(alternatives, differences)}${page}`);
    });

/** Reads all files; what is wrong with any of them is told together. */
async function readAll(files: readonly string[], io: Surroundings["io"]): Promise<Scenario[]> {
  const read = await Promise.allSettled(files.map((file) => readScenario(file, io)));
  const refused = read.flatMap((result) => (result.status === "rejected" ? [result.reason as unknown] : []));
  const fault = refused.find((error) => !(error instanceof InputError));
  if (fault !== undefined) throw fault as Error;
  if (refused.length === 1) throw refused[0] as Error;
  if (refused.length > 1) throw new InputError([...new Set(refused.map((error) => (error as Error).message))].join("\n"));
  return read.map((result) => (result as PromiseFulfilledResult<Scenario>).value);
}

function alternativeJson({ scenario, figures: found, promises, ratings: rows, bill, drawn }: Alternative): Told<"compare">["alternatives"][number] {
  return {
    file: scenario.file,
    title: scenario.title,
    run: runJson(scenario, found, promises),
    check: { promises, ratings: rows },
    bill,
    drawn: { stalled: drawn.stalled, unreachable: drawn.unreachable, promises: drawn.promises },
  };
}

/** Where the alternatives are put on common ground. */
function remarks(scenarios: readonly Scenario[]): string[] {
  const [first, ...others] = scenarios;
  const visitors = JSON.stringify(first!.visitors);
  return [
    ...(others.some(({ seed }) => seed !== first!.seed) ? ["the seeds differ: the builds of all are drawn with that of " +
      first!.file] : []),
    ...(others.some((other) => JSON.stringify(other.visitors) !== visitors)
      ? [`the visitors differ: returns and stays are compared for those of ${first!.file}`]
      : []),
  ];
}

/** What the second file buys against the first, and for how many parts. */
function boughtInWords([first, second]: readonly Alternative[], differences: readonly Difference[]): string {
  const told = differences.flatMap(({ againstFirst: [, against], values: [before, after], unit, words }) =>
    against?.distinct === true && before != null && after != null
      ? [`${words} ${figureValue(after, unit)} instead of ${figureValue(before, unit)}`]
      : [],
  );
  const more = second!.bill.parts - first!.bill.parts;
  const cost = more === 0 ? "as many parts" : `${counted(Math.abs(more), "part")} ${more > 0 ? "more" : "fewer"}`;
  const letters = `${second!.letter} has ${cost} than ${first!.letter}`.replace("as many parts than", "as many parts as");
  return told.length === 0
    ? `take whichever is easier to build: ${letters}, and the builds cannot tell them apart.`
    : `decide whether this is worth it: ${letters}; ${listed(told.slice(0, 3))}.`;
}

function asText(alternatives: readonly Alternative[], differences: readonly Difference[], builds: number): Block[] {
  const letters = alternatives.map(({ letter }) => letter);
  const first = alternatives[0]!;
  const promises = promiseRows(alternatives);
  const defined = differences.filter(({ values }) => values.every((value) => value !== null));
  const alike = defined.filter(({ distinct }) => !distinct).length;
  return [
    table(
      ["", "title", "file", ">boards", ">lamps", ">parts", "ratings"],
      alternatives.map(({ letter, scenario, bill, ratings: rows }) => [
        letter,
        scenario.title,
        scenario.file,
        String(bill.boards),
        String(bill.lamps),
        String(bill.parts),
        ratingsInWords(rows),
      ]),
    ),
    "",
    table(
      ["figure", "better is", ...letters.map((letter) => `>${letter}`),
        ...letters.slice(1).map((letter) => `>${letter} minus ${first.letter}, likely range`)],
      differences.map((difference) => [
        difference.words,
        betterCell(difference),
        // a mark stands beside the numbers, which stay under each other
        ...letters.map((_, i) => meanCell(difference, i).replace(/([^~])$/, "$1  ")),
        ...letters.slice(1).map((_, i) => intervalCell(difference, i + 1)),
      ]),
    ),
    figuresMean(builds, first.letter),
    `${counted(alike, "figure")} of ${defined.length} cannot be told apart.`,
    ...alternatives.filter(({ drawn }) => drawn.stalled > 0).map(({ letter, drawn }) => `In ${counted(drawn.stalled, "build")} of ` +
      `${letter} a timer stalls.`),
    "",
    ...(promises.length === 0
      ? ["No promises are made."]
      : [
          `Promises: the nominal build of ${listed(letters)}, then how many builds keep them`,
          table(["promise", ...letters], promises.map(({ text, cells }) => [text, ...cells.map(promiseCell)])),
        ]),
  ];
}
