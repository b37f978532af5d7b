import { headlines } from "../../sim/figures/headlines.js";
import { readScenario } from "../../sim/scenario/file.js";
import type { Scenario } from "../../sim/model/scenario.js";
import type { Spread } from "../../sim/spread/index.js";
import { percent, spokenDuration } from "../../sim/units/text.js";
import { Exit } from "../output/errors.js";
import { printJson } from "../json/print.js";
import { progressBar } from "../output/progress.js";
import { print, type Block } from "../terminal/layout.js";
import { table, type TextTable } from "../terminal/table.js";
import { tellNext } from "../terminal/next.js";
import { moverInWords } from "../movers.js";
import { counted, figureValue } from "../words.js";
import { commandWithExample, type MakeCommand } from "./command.js";
import { withInterrupt } from "./interrupt.js";
import { wholeFrom, workersOption } from "./options.js";

interface Options {
  readonly builds: number;
  readonly workers: number;
  readonly json?: boolean;
}

/** `lampdrift spread`: what comes out of the soldering, over many builds drawn from the tolerances. */
export const spreadCommand: MakeCommand = ({ io, finish }) =>
  commandWithExample(
    "spread",
    "lampdrift spread harbour.yaml --builds 1000",
  )
    .argument("<FILE>", "scenario file")
    .option("--builds <N>", "builds to draw", wholeFrom(1, 1_000_000), 1000)
    .addOption(workersOption())
    .option("--json", "print one JSON object and nothing else")
    .action(async (file: string, { builds, workers, json = false }: Options) => {
      const scenario = await readScenario(file, io);
      const { spread } = await import("../../sim/spread/index.js");
      const bar = progressBar(io, "builds", builds);
      const found = await withInterrupt(io, (signal) => spread(scenario, { builds, workers, signal, progress: bar.update }));
      bar.stop();
      if (json) printJson(io, "spread", found);
      else print(io.stdout, [scenario.title, ...spreadAsText(scenario, found, builds)]);
      if (!json) tellNext(io.stdout, nextAfter(file, found));
      if (found.promises.some(({ kept, builds: of }) => kept < of)) finish(Exit.Broken);
    });

function nextAfter(file: string, { promises }: Spread): string {
  if (promises.length === 0) return `write into ${file} what you promise (key promises), so that it can be counted who keeps it.`;
  return promises.every(({ kept, builds }) => kept === builds)
    ? `lampdrift hunt ${file} looks for a build that breaks a promise all the same.`
    : `lampdrift tune ${file} looks for knob settings with which more builds keep the promises.`;
}

function spreadAsText(scenario: Scenario, found: Spread, asked: number): Block[] {
  const done = found.partial ? `${counted(found.builds, "build")} of ${asked}: ended early, a ` +
    "partial result" : counted(found.builds, "build");
  const quantileColumns = [">least", ">low", ">middle", ">high", ">most"];
  return [
    done,
    ...(found.stalled === 0 ? [] : [`A timer stalls in ${counted(found.stalled, "build")}; they keep no promise.`]),
    ...(found.unreachable === 0
      ? []
      : [`In ${counted(found.unreachable, "build")} a knob does not reach its setting and stays at the end of its track.`]),
    "",
    "Step times at the room's mean temperature",
    table(
      ["board", ">nominal", ...quantileColumns, ">if all errors add up", ">if they partly cancel"],
      found.boards.map(({ id, step, sources }) => [
        id,
        spokenDuration(sources.nominal),
        ...quantileCells(step, spokenDuration),
        rangeText(sources.worstCase),
        rangeText(sources.rootSumSquare),
      ]),
    ),
    COLUMNS,
    "",
    "Where the spread of the step time comes from",
    ...found.boards.map(({ id, sources }) => {
      const parts = sources.parts.filter(({ share }) => share > 0);
      if (parts.length === 0) return `${id}: nothing moves it`;
      return `${id}: ${parts.map(({ part, share }) => `${moverInWords(part)} ${percent(share)}`).join(", ")}`;
    }),
    "",
    "Figures",
    table(
      ["figure", ...quantileColumns],
      headlines(scenario.visitors).map(({ key, words, unit }) => [
        words,
        ...quantileCells(found.figures[key] ?? null, (value) => figureValue(value, unit)),
      ]),
    ),
    "",
    ...(found.allKept === null ? ["No promises are made."] : ["Promises", promisesTable(found, found.allKept), LIKELY]),
  ];
}

/** What the columns of quantiles say, in words. */
const COLUMNS = "Low: of 20 builds one comes out below this; high: one above this; middle: as many above as below.";

/** What the likely range says, in words. */
const LIKELY = "Likely range: of all builds that could be soldered, so many keep it; such a range is right 19 times in 20.";

function promisesTable({ promises }: Spread, allKept: NonNullable<Spread["allKept"]>): TextTable {
  const row = (text: string, { kept, builds, share, low, high }: NonNullable<Spread["allKept"]>): string[] => [
    text,
    `${kept} of ${builds}`,
    percent(share),
    `${percent(low)} to ${percent(high)}`,
  ];
  return table(
    ["promise", ">kept", ">share", ">likely range"],
    [...promises.map((promise) => row(promise.text, promise)), row("all of them", allKept)],
  );
}

function quantileCells(quantiles: Spread["boards"][number]["step"], print: (value: number) => string): string[] {
  if (quantiles === null) return ["not defined", "", "", "", ""];
  const { p05, p50, p95, min, max } = quantiles;
  return [min, p05, p50, p95, max].map(print);
}

function rangeText({ min, max }: { min: number | null; max: number | null }): string {
  const end = (seconds: number | null): string => (seconds === null ? "stalls" : spokenDuration(seconds));
  return `${end(min)} to ${end(max)}`;
}
