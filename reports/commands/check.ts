import { findings } from "../../sim/scenario/findings.js";
import { readScenario } from "../../sim/scenario/file.js";
import type { Scenario } from "../../sim/scenario/model.js";
import { boardTimes } from "../../sim/timers/nominal.js";
import { spokenDuration } from "../../sim/units/text.js";
import { textTable, visible } from "../output/table.js";
import { counterInWords, listed, openingInWords, sizeInWords, timerInWords } from "../words.js";
import { commandWithExample, type MakeCommand } from "./command.js";

/** `lampdrift check`: reads a scenario and says what it describes. */
export const checkCommand: MakeCommand = () =>
  commandWithExample("check", "read a scenario and say what it describes", "lampdrift check harbour.yaml")
    .argument("<FILE>", "scenario file")
    .action(async (file: string) => {
      const scenario = await readScenario(file);
      process.stdout.write(`${description(scenario)}\n`);
    });

/** What a scenario describes, for a terminal. */
export function description(scenario: Scenario): string {
  const times = boardTimes(scenario);
  const boards = textTable(
    ["board", "timer", "counter", ">step", ">first step", ">cycle"],
    scenario.boards.map(({ id, timer, counter }, b) => [
      id,
      timerInWords(timer, scenario.boards),
      counterInWords(counter),
      spokenDuration(times[b]!.stepSeconds),
      spokenDuration(times[b]!.firstStepSeconds),
      spokenDuration(times[b]!.cycleSeconds),
    ]),
  );
  const remarks = remarksOn(scenario);
  return [
    visible(scenario.title),
    `${sizeInWords(scenario)}; ${openingInWords(scenario.opening)}`,
    "",
    boards,
    ...(remarks.length === 0 ? [] : ["", ...remarks]),
  ].join("\n");
}

function remarksOn(scenario: Scenario): string[] {
  const { idleOutputs, neverLit, shared } = findings(scenario);
  return [
    ...idleOutputs.map(({ board, outputs }) => {
      const which = outputs.length === 1 ? "output" : "outputs";
      return `Board ${board}: nothing on ${which} ${abridged(outputs.map(String))}.`;
    }),
    ...(neverLit.length === 0 ? [] : [`No output lights ${abridged(neverLit)}.`]),
    ...shared.map(({ house, boards }) => `House ${house} is lit by several boards: ${listed(boards)}.`),
  ];
}

function abridged(items: readonly string[]): string {
  const most = 20;
  return items.length <= most ? listed(items) : `${items.slice(0, most).join(", ")} … (${items.length} in all)`;
}
