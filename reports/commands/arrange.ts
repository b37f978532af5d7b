import { availableParallelism } from "node:os";
import { join } from "node:path";
import { arrange, parseAddedBoard, PART_NAMES, withAddedBoard, type Arrangement, type JudgedArrangement, type PartName } from "../../sim/arrange/index.js";
import { rewiredText } from "../../sim/arrange/write.js";
import { compareAlternatives, type Comparison } from "../../sim/compare/index.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { readSource } from "../../sim/scenario/file.js";
import { scenarioOf } from "../../sim/scenario/read.js";
import { percent, plain, spokenDuration } from "../../sim/units/text.js";
import { Exit, UsageError } from "../output/errors.js";
import { writeNew, writeOver } from "../output/files.js";
import { printJson, type Told } from "../json/print.js";
import { progressBar } from "../output/progress.js";
import { print, type Block } from "../terminal/layout.js";
import { table } from "../terminal/table.js";
import { tellNext } from "../terminal/next.js";
import { tell } from "../terminal/tell.js";
import { switchedBy } from "../pictures/arrangement.js";
import { counted, figureValue } from "../words.js";
import { commandWithExample, type MakeCommand, type Surroundings } from "./command.js";
import { placed } from "./placed.js";
import { nameFrom, wholeFrom } from "./options.js";

interface Options {
  readonly write?: string;
  readonly tries: number;
  readonly seed?: string;
  readonly weigh?: readonly string[];
  readonly addBoard?: string;
  readonly builds: number;
  readonly out?: string;
  readonly json?: boolean;
}

/** `lampdrift arrange`: which house on which output. */
export const arrangeCommand: MakeCommand = ({ io, finish }) =>
  commandWithExample(
    "arrange",
    "lampdrift arrange harbour.yaml --weigh wire=2 --write harbour-arranged.yaml -o out/arranged",
  )
    .argument("<FILE>", "scenario file; its key arrange holds your wishes")
    .option("--write <NEW.yaml>", "write the scenario with the best arrangement; never overwrites", nameFrom)
    .option("--tries <N>", "changes to try", wholeFrom(1, 10_000_000), 10_000)
    .option("--seed <TEXT>", "draws of the search; default: the seed of the scenario")
    .option("--weigh <PART=WEIGHT...>", `how much a part counts, 0 to 100, each 1 unless given: ${PART_NAMES.join(", ")}`)
    .option("--add-board <COUNTER:SIZE>", "what one more board would best take over, such as ring:8, johnson:5, binary:3, lfsr:4")
    .option("--builds <N>", "builds to draw for what an added board buys", wholeFrom(2, 100_000), 100)
    .option("-o, --out <DIR>", "draw both arrangements into this directory", nameFrom)
    .option("--json", "print one JSON object and nothing else")
    .action(async (file: string, options: Options) => {
      const { write, tries, seed, weigh = [], addBoard, builds, out, json = false } = options;
      const source = await readSource(file, io);
      const today = scenarioOf(source);
      const weights = Object.fromEntries(weigh.map(parseWeight));
      const scenario = addBoard === undefined ? today : withAddedBoard(today, parseAddedBoard(addBoard));
      const { arrangement, stopped } = await searched(scenario, { tries, seed: seed ?? today.seed, weights }, io);
      const { after } = arrangement;
      const bought = addBoard === undefined ? null : await whatItBuys(today, after.scenario, builds, io);
      if (out !== undefined) {
        const { canvas, svgFile } = await import("../pictures/canvas.js");
        const { drawArrangements } = await import("../pictures/arrangement.js");
        const paper = canvas();
        const panels = [{ heading: "Today", scenario: today }, { heading: "Proposed", scenario: after.scenario }];
        const svg = paper.serialize(drawArrangements(paper.document, panels));
        await writeOver(join(out, "arrangement.svg"), svgFile(svg));
        tell(io.stderr, `wrote ${join(out, "arrangement.svg")}`);
      }
      if (write !== undefined) {
        const { text, next } = placed(rewiredText(source.texts[0]!, file, today, after.scenario), file, write);
        await writeNew(write, text);
        tell(io.stderr, `wrote ${write} with the best arrangement; ${next}`);
      }
      if (json) printJson(io, "arrange", { ...arrangementJson(arrangement), stopped, bought: bought?.differences ?? null });
      else {
        print(io.stdout, [today.title, ...asText(arrangement, today, bought, stopped)]);
        tellNext(io.stdout, write === undefined
          ? `lampdrift arrange ${file} --write NEW.yaml writes this arrangement into a copy of the file.`
          : `lampdrift compare ${file} ${write} shows what it buys.`);
      }
      if (stopped) finish(Exit.Stopped);
      else if (after.promises.some(({ kept }) => !kept) || after.over > 0) finish(Exit.Broken);
    });

/** Runs the search, with a bar; Ctrl-C ends it with the best so far. */
async function searched(
  scenario: Scenario,
  options: Parameters<typeof arrange>[1],
  io: Surroundings["io"],
): Promise<{ arrangement: Arrangement; stopped: boolean }> {
  let stopped = false;
  const stop = (): void => {
    stopped = true;
  };
  io.once("SIGINT", stop);
  const bar = progressBar(io, "changes", options.tries);
  try {
    const search = arrange(scenario, options, () => stopped);
    for (;;) {
      const step = search.next();
      if (step.done === true) return { arrangement: step.value, stopped };
      bar.update(step.value);
      // lets Ctrl-C through
      await new Promise(setImmediate);
    }
  } finally {
    bar.stop();
    io.off("SIGINT", stop);
  }
}

/** Both displays over the same builds. */
async function whatItBuys(today: Scenario, grown: Scenario, builds: number, io: Surroundings["io"]): Promise<Comparison> {
  const bar = progressBar(io, "builds", 2 * builds);
  try {
    return await compareAlternatives([today, grown], { builds, workers: Math.min(2, availableParallelism()), progress: bar.update });
  } finally {
    bar.stop();
  }
}

/** Reads "wire=2". */
function parseWeight(text: string): [PartName, number] {
  const [, name = "", number = ""] = /^\s*(\w+)\s*=\s*(\d{1,3}(?:\.\d+)?)\s*$/.exec(text) ?? [];
  const weight = Number(number);
  const part = PART_NAMES.find((one) => one === name);
  if (part !== undefined && number !== "" && weight <= 100) return [part, weight];
  throw new UsageError(`--weigh: found ${JSON.stringify(text)}; expected one of ${PART_NAMES.join(", ")}, an equals sign and a number ` +
    "from 0 to 100, such as wire=2");
}

function arrangementJson({ before, after, least, tries }: Arrangement): Omit<Told<"arrange">, "stopped" | "bought"> {
  const side = ({ score, parts, promises, over, amiss }: JudgedArrangement): Told<"arrange">["before"] => ({
    score,
    parts,
    promisesBroken: promises.filter(({ kept }) => !kept).length,
    ratingsOver: over,
    wishesBroken: amiss,
  });
  const { boards, houses } = after.scenario;
  return {
    before: side(before),
    after: side(after),
    least,
    tries,
    outputs: Object.fromEntries(
      boards.map(({ id, outputs }) => [
        id,
        Object.fromEntries(outputs.flatMap((loads, output) => (loads.length === 0 ? [] : [[output, loads.map(({ house }) => houses[house]!.id)]]))),
      ]),
    ),
    promises: after.promises,
  };
}

/** Each part in words, and how its numbers are printed. */
const PARTS: Readonly<Record<PartName, { readonly words: string; readonly print: (value: number) => string }>> = {
  evenness: { words: "unevenness: how far houses of a zone are from equally lit", print: percent },
  swing: { words: "swing: from the fewest to the most houses lit, of all", print: percent },
  dark: { words: "dark: longest time for which a zone is wholly dark", print: spokenDuration },
  together: { words: "together: how often neighbours change at once", print: percent },
  wire: { words: "wire: from the boards to their houses, in units of at", print: (value) => plain(value, 5) },
  sameAtRandom: { words: "same at random: two glances show the same scene", print: percent },
};

function asText({ before, after, least, tries }: Arrangement, today: Scenario, bought: Comparison | null, stopped: boolean): Block[] {
  const moved = movedHouses(today, after.scenario);
  const broken = after.promises.filter(({ kept }) => !kept);
  return [
    ...(stopped ? [`Stopped after ${counted(tries, "change")}: this is the best so far.`] : []),
    moved.length === 0
      ? `Today's arrangement is as good as the best that was found in ${counted(tries, "change")}.`
      : `${counted(moved.length, "house")} would hang elsewhere; the score goes from ${plain(before.score, 3)} to ` +
        `${plain(after.score, 3)}, lower is better.`,
    "",
    table(
      ["part, lower is better", ">today", ">proposed", ">at best"],
      PART_NAMES.map((name) => {
        const { words, print } = PARTS[name];
        return [words, print(before.parts[name]), print(after.parts[name]), print(least[name])];
      }),
    ),
    ...(after.amiss > 0 ? ["", "Not all wishes could be kept together with the promises and ratings; more tries may help."] : []),
    ...(after.promises.length === 0
      ? ["No promises are made."]
      : broken.length === 0
        ? ["All promises are kept."]
        : [`Broken: ${broken.map(({ text }) => text).join("; ")}.`]),
    ...(after.over > 0 ? [`${counted(after.over, "rating")} over the limit; "lampdrift check" says which.`] : []),
    ...(moved.length === 0
      ? []
      : [
          "",
          table(
            ["house", "today", "proposed"],
            moved.map((house) => [today.houses[house]!.id, switchedBy(today, house), switchedBy(after.scenario, house)]),
          ),
        ]),
    ...(bought === null ? [] : ["", ...boughtText(bought, after.scenario)]),
  ];
}

function movedHouses(before: Scenario, after: Scenario): number[] {
  return before.houses.flatMap((_, house) => (switchedBy(before, house) === switchedBy(after, house) ? [] : [house]));
}

function boughtText({ differences }: Comparison, grown: Scenario): Block[] {
  const { id, timer } = grown.boards.at(-1)!;
  const told = differences.filter(({ distinct }) => distinct);
  const step = timer.kind === "measured" ? `, one step every ${spokenDuration(timer.step)},` : "";
  if (told.length === 0) return [`What board ${id}${step} would buy cannot be told from chance.`];
  return [
    `What board ${id}${step} would buy, means over the same builds:`,
    table(
      ["figure", ">today", `>with ${id}`],
      told.map(({ words: figure, unit, values }) => [figure, ...values.map((value) => (value === null ? "not defined" : figureValue(value, unit)))]),
    ),
  ];
}
