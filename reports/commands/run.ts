import { figures, type Figures } from "../../sim/figures/index.js";
import { simulate } from "../../sim/engine/simulate.js";
import { readScenario } from "../../sim/scenario/file.js";
import { percent, plain, spokenDuration } from "../../sim/units/text.js";
import type { Scenario } from "../../sim/scenario/model.js";
import { printJson, runJson } from "../output/json.js";
import { textTable, visible } from "../output/table.js";
import { counted, openingInWords, sizeInWords } from "../words.js";
import { commandWithExample, type MakeCommand } from "./command.js";

/** `lampdrift run`: simulates the nominal build and prints its figures. */
export const runCommand: MakeCommand = () =>
  commandWithExample("run", "simulate the nominal build and print the figures", "lampdrift run harbour.yaml --json")
    .argument("<FILE>", "scenario file")
    .option("--json", "print one JSON object and nothing else")
    .action(async (file: string, { json = false }: { json?: boolean }) => {
      const scenario = await readScenario(file);
      const found = figures(simulate(scenario));
      if (json) printJson(runJson(scenario, found));
      else process.stdout.write(`${figuresAsText(scenario, found)}\n`);
    });

/** The figures as tables for a terminal. */
export function figuresAsText(scenario: Scenario, found: Figures): string {
  const { scenes, lit, houses, zones, boards } = found;
  return [
    visible(scenario.title),
    `${sizeInWords(scenario)}; ${openingInWords(scenario.opening)}`,
    `${spokenDuration(found.observed.seconds)} of open time simulated`,
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
