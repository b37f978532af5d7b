import { figures, type Figures } from "../../sim/figures/index.js";
import { sentences } from "../../sim/figures/words.js";
import type { SceneRecord } from "../../sim/engine/record.js";
import { simulate } from "../../sim/engine/simulate.js";
import { advise } from "../../sim/planning/advice.js";
import { parseBuild } from "../../sim/hunt/replay.js";
import { readScenario, readText } from "../../sim/scenario/file.js";
import { NOMINAL } from "../../sim/timers/build.js";
import { percent, plain, spokenDuration } from "../../sim/units/text.js";
import { printJson, runJson } from "../output/json.js";
import { textTable } from "../output/table.js";
import { visible } from "../output/visible.js";
import { counted, openingInWords, sizeInWords } from "../words.js";
import { commandWithExample, type MakeCommand } from "./command.js";

/** `lampdrift run`: simulates the nominal build and prints its figures. */
export const runCommand: MakeCommand = ({ io }) =>
  commandWithExample("run", "simulate the nominal build and print the figures", "lampdrift run harbour.yaml --json")
    .argument("<FILE>", "scenario file")
    .option("--build <FILE>", "simulate these part values, as hunt --json prints them, in place of the nominal ones")
    .option("--json", "print one JSON object and nothing else")
    .action(async (file: string, { build, json = false }: { build?: string; json?: boolean }) => {
      const scenario = await readScenario(file);
      const parts = build === undefined ? NOMINAL : parseBuild(await readText(build), build, scenario);
      const record = simulate(scenario, { build: parts });
      const found = figures(record);
      if (json) printJson(io, runJson(scenario, found));
      else io.stdout.write(`${figuresAsText(record, found)}\n`);
    });

/** The figures as tables for a terminal. */
function figuresAsText(record: SceneRecord, found: Figures): string {
  const { scenario } = record;
  const { scenes, lit, houses, zones, boards } = found;
  const advice = advise(record, found);
  return [
    visible(scenario.title),
    `${sizeInWords(scenario)}; ${openingInWords(scenario.opening)}`,
    `${spokenDuration(found.observed.seconds)} of open time simulated`,
    "",
    ...sentences(found, scenario),
    ...(advice.length === 0 ? [] : ["", "What would help", ...advice.map(({ text }) => `- ${text}`)]),
    "",
    "Scenes",
    textTable(
      ["figure", ">value"],
      [
        ["different scenes shown", plain(scenes.distinct, 7)],
        ["different scenes possible", scenes.combinations === null ? "too many to count" : plain(scenes.combinations, 7)],
        ["scene changes", `${plain(scenes.changes, 9)} (${plain(scenes.changesPerHour, 3)} an hour)`],
        ["two glances at random show the same", percent(scenes.sameAtRandom)],
        ["effective number of scenes (order 2)", plain(scenes.effective, 4)],
        ["effective number of scenes (order 1)", plain(scenes.even, 4)],
        ["shortest, median, longest spell", [scenes.shortestSeconds, scenes.medianSeconds, scenes.longestSeconds].map(spokenDuration).join(", ")],
        ["houses lit at once", `${lit.min} to ${lit.max}, ${plain(lit.mean, 3)} on average`],
      ],
    ),
    "",
    "Coming back",
    returnsTable(found),
    "",
    "Staying",
    visitTable(found),
    "",
    "Houses",
    textTable(
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
      : ["", "Zones", textTable(["zone", ">at least one house lit"], zones.map(({ zone, litShare }) => [zone, percent(litShare)]))]),
    "",
    "Boards",
    textTable(
      ["board", ">steps", ">step", ">first step", ">cycle", ">pulses"],
      boards.map(({ id, steps, stepSeconds, firstStepSeconds, cycleSeconds, pulses }) => [
        id,
        String(steps),
        spokenDuration(stepSeconds),
        spokenDuration(firstStepSeconds),
        spokenDuration(cycleSeconds),
        plain(pulses, 9),
      ]),
    ),
    "",
    `${counted(scenario.assumptions.length, "value")} assumed; the report lists them.`,
  ].join("\n");
}

/** Return times of the scenario, and the echoes. */
function returnsTable({ repeat, scenes }: Figures): string {
  const share = (value: number | null): string => (value === null ? "not defined: never open both times" : percent(value));
  return textTable(
    ["after", ">same scene", ""],
    [
      ...repeat.returns.map((point) => [spokenDuration(point.afterSeconds), share(point.share), "as asked"]),
      ...repeat.echoes.map((point) => [spokenDuration(point.afterSeconds), percent(point.share), "echo"]),
      ["any time", percent(scenes.sameAtRandom), "pure chance"],
    ],
  );
}

/** What visitors see who stay as long as the scenario says, and how often others see a scene come back. */
function visitTable({ visit, anyHour }: Figures): string {
  const tooLong = "not defined: no opening is so long";
  const value = (found: number | null, print: (found: number) => string): string => (found === null ? tooLong : print(found));
  const stay = spokenDuration(visit.staySeconds);
  const told = visit.repeatCurve.filter(({ staySeconds }) => [600, 1800, 3600, 7200].includes(staySeconds));
  return textTable(
    ["figure", ">value"],
    [
      [`different scenes seen in ${stay}`, value(visit.distinctScenes, (n) => plain(n, 3))],
      [`changes seen in ${stay}`, value(visit.changesSeen, (n) => plain(n, 3))],
      [`see a scene come back in ${stay}`, value(visit.repeatShare, percent)],
      ...told.map(({ staySeconds, share }) => [`see a scene come back in ${spokenDuration(staySeconds)}`, value(share, percent)]),
      ["fewest scenes in any hour", value(anyHour.fewestScenes, (n) => plain(n, 7))],
    ],
  );
}
