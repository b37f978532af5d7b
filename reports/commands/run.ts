import { headlines } from "../../sim/figures/headlines.js";
import { figuresOf, type Figures } from "../../sim/figures/index.js";
import { Measures } from "../../sim/figures/measures.js";
import { checkPromises, type PromiseResult } from "../../sim/promises/index.js";
import type { Opening } from "../../sim/model/scenario.js";
import { ratings, ratingsHoldAnyway, type Rating } from "../../sim/ratings/index.js";
import { simulate } from "../../sim/engine/simulate.js";
import { knobOf } from "../../sim/knob/settings.js";
import { advise, type Advice } from "../../sim/planning/advice.js";
import { parseBuild } from "../../sim/hunt/replay.js";
import { readSource, readText, type Reading } from "../../sim/scenario/file.js";
import { scenarioOf } from "../../sim/scenario/read.js";
import { NOMINAL } from "../../sim/timers/build.js";
import { percent, plain, spokenDuration } from "../../sim/units/text.js";
import { Exit } from "../output/errors.js";
import { printJson, runJson } from "../json/print.js";
import type { Io } from "../output/io.js";
import { visible } from "../output/visible.js";
import { tellWarnings } from "../terminal/warnings.js";
import { print, type Block } from "../terminal/layout.js";
import { table, type TextTable } from "../terminal/table.js";
import { firstOpening } from "../terminal/dayline.js";
import { tellNext } from "../terminal/next.js";
import { echoesInWords, fiveSentences } from "../sentences.js";
import { again, watchOption } from "../watch/again.js";
import { counted, figureValue, openingInWords, sizeInWords } from "../words.js";
import { commandWithExample, type MakeCommand } from "./command.js";
import { isBroken, promisesAsText, ratingsAsText } from "./verdicts.js";

interface Options {
  readonly build?: string;
  readonly json?: boolean;
  readonly watch?: boolean;
}

/** `lampdrift run`: simulates the nominal build and prints its figures. */
export const runCommand: MakeCommand = ({ io, finish }) =>
  commandWithExample("run", "lampdrift run harbour.yaml --json")
    .argument("<FILE>", "scenario file")
    .option("--build <FILE>", "simulate these part values, as hunt --json prints them, in place of the nominal ones")
    .option("--json", "print one JSON object and nothing else")
    .addOption(watchOption())
    .action(async (file: string, options: Options) => {
      if (options.watch === true) await again(io, (inner, reading) => runOnce(inner, file, options, reading));
      else if (await runOnce(io, file, options)) finish(Exit.Broken);
    });

/** Runs a file once and prints what is found; whether a promise is broken or a rating over. */
async function runOnce(io: Io, file: string, { build, json = false }: Options, reading?: Reading): Promise<boolean> {
  const scenario = scenarioOf(await readSource(file, { bases: io.bases, reading }));
  tellWarnings(io, scenario);
  if (build !== undefined) reading?.(build);
  const parts = build === undefined ? NOMINAL : parseBuild(await readText(build, "a build as hunt --json prints it"), build, scenario);
  // which outputs were on together is of use only where a rating may be over, or is promised
  const trace = scenario.promises.some(({ kind }) => kind === "ratings") || !ratingsHoldAnyway(scenario);
  const record = simulate(scenario, { build: parts, trace });
  const measures = new Measures(record);
  const found = figuresOf(measures);
  const rows = trace ? ratings(scenario, record) : null;
  const promises = checkPromises(record, parts, rows === null ? { measures } : { measures, ratings: rows });
  const over = (rows ?? []).filter(({ verdict }) => verdict === "over");
  if (json) printJson(io, "run", runJson(scenario, found, promises));
  else {
    const advice = advise(record, found);
    print(io.stdout, [...figuresAsText(measures, found, advice), "", ...verdictsAsText(promises, over, scenario.opening)]);
    if (io.stdout.isTTY === true) print(io.stdout, ["", firstOpening(record, io)]);
    const knobs = scenario.boards.some((_, b) => knobOf(scenario, b) !== null);
    const helps = advice.length > 0;
    tellNext(io.stdout, helps && knobs ? `lampdrift tune ${file} looks for better knob settings.` : helps
      ? `change ${file} as it says under “What would help”, and run it again.`
      : `lampdrift report ${file} writes it for the committee.`);
  }
  return isBroken(promises, over);
}

/** What was promised, and what is over its limit; `check` has all ratings. */
function verdictsAsText(promises: readonly PromiseResult[], over: readonly Rating[], opening: Opening): Block[] {
  return [
    ...(promises.length === 0 ? ["No promises are made."] : ["Promises", ...promisesAsText(promises, opening)]),
    ...(over.length === 0 ? [] : ["", "Over the limit", ...ratingsAsText(over, opening)]),
  ];
}

const TOO_LONG = "not defined: no opening is so long";

/** The figures as tables for a terminal. */
function figuresAsText(measures: Measures, found: Figures, advice: readonly Advice[]): Block[] {
  const { record } = measures;
  const { scenario } = record;
  const told = headlines(scenario.visitors).map((headline): Told => {
    const { key, words, unit } = headline;
    const value = headline.of(measures);
    return { key, row: [words, value === null ? TOO_LONG : figureValue(value, unit)] };
  });
  const staying = (key: string): boolean => key.startsWith("visit.") || key.startsWith("anyHour.");
  const { scenes, lit, houses, zones, boards } = found;
  const days = advice.filter(({ kind }) => kind === "same-days");
  const helpful = advice.filter(({ kind }) => kind !== "same-days");
  return [
    visible(scenario.title),
    `${sizeInWords(scenario)}; ${openingInWords(scenario.opening)}`,
    `${spokenDuration(found.observed.seconds)} of open time simulated`,
    "",
    // before everything else: it is the first thing that people would find out
    ...days.flatMap(({ text }) => [text, ""]),
    ...fiveSentences(found, scenario),
    ...echoesInWords(found.repeat),
    ...(helpful.length === 0 ? [] : ["", "What would help", ...helpful.map(({ text }) => `- ${text}`)]),
    "",
    "Scenes",
    table(
      ["figure", ">value"],
      [
        ...told.filter(({ key }) => !key.startsWith("repeat.") && !staying(key)).map(({ row }) => row),
        ["as varied as so many, if rare ones count more", plain(scenes.even, 4)],
        ["different scenes possible", scenes.combinations === null ? "too many to count" : plain(scenes.combinations, 7)],
        ["scene changes in all", plain(scenes.changes, 9)],
        ["houses lit at once, fewest and most", `${lit.min} to ${lit.max}`],
      ],
    ),
    "",
    "Coming back",
    returnsTable(found),
    "",
    "Staying",
    visitTable(found, told.filter(({ key }) => staying(key))),
    "",
    "Houses",
    table(
      ["house", ">lit", ">lightings", ">longest dark", ">longest lit"],
      houses.map(({ id, litShare, lightings, longestDarkSeconds, longestLitSeconds }) => [
        id,
        percent(litShare),
        plain(lightings, 9),
        spokenDuration(longestDarkSeconds),
        spokenDuration(longestLitSeconds),
      ]),
    ),
    ...(zones.length === 0
      ? []
      : ["", "Zones", table(["zone", ">at least one house lit"], zones.map(({ zone, litShare }) => [zone, percent(litShare)]))]),
    "",
    "Boards",
    table(
      ["board", ">steps", ">step", ">first step", ">cycle", ">pulses"],
      boards.map(({ id, steps, stepSeconds, firstStepSeconds, cycleSeconds, pulses }) => [
        id,
        String(steps),
        ...[stepSeconds, firstStepSeconds, cycleSeconds].map((time) => (time === Infinity ? "stands still" : spokenDuration(time))),
        plain(pulses, 9),
      ]),
    ),
    "",
    `${counted(scenario.assumptions.length, "value")} assumed; the report lists them.`,
  ];
}

/** A headline figure as a row of a table. */
interface Told {
  readonly key: string;
  readonly row: readonly [words: string, value: string];
}

/** Return times of the scenario, and the echoes. */
function returnsTable({ repeat, scenes }: Figures): TextTable {
  const share = (value: number | null): string => (value === null ? "not defined: never open both times" : percent(value));
  return table(
    ["after", ">same scene", ""],
    [
      ...repeat.returns.map((point) => [spokenDuration(point.afterSeconds), share(point.share), "as asked"]),
      ...repeat.echoes.map((point) => [spokenDuration(point.afterSeconds), percent(point.share), "echo"]),
      ["any time", percent(scenes.sameAtRandom), "pure chance"],
    ],
  );
}

/** What visitors see who stay as long as the scenario says, and how often others see a scene come back. */
function visitTable({ visit }: Figures, headline: readonly Told[]): TextTable {
  const value = (found: number | null, print: (found: number) => string): string => (found === null ? TOO_LONG : print(found));
  const stay = spokenDuration(visit.staySeconds);
  const told = visit.repeatCurve.filter(({ staySeconds }) => [600, 1800, 3600, 7200].includes(staySeconds));
  return table(
    ["figure", ">value"],
    [
      ...headline.map(({ row }) => row),
      [`changes seen in ${stay}`, value(visit.changesSeen, (n) => plain(n, 3))],
      ...told.map(({ staySeconds, share }) => [`see a scene come back in ${spokenDuration(staySeconds)}`, value(share, percent)]),
    ],
  );
}
