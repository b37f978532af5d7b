import { figuresOf } from "../../sim/figures/index.js";
import { Measures } from "../../sim/figures/measures.js";
import { simulate } from "../../sim/engine/simulate.js";
import { dayAdvice } from "../../sim/planning/days.js";
import { checkPromises } from "../../sim/promises/index.js";
import { ratingNotes, ratings } from "../../sim/ratings/index.js";
import { findings } from "../../sim/scenario/findings.js";
import { readSource, type Reading } from "../../sim/scenario/file.js";
import { scenarioOf } from "../../sim/scenario/read.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { NOMINAL } from "../../sim/timers/build.js";
import { boardTimes } from "../../sim/timers/boardtimes.js";
import { listed, spokenDuration } from "../../sim/units/text.js";
import { printJson, runJson } from "../json/print.js";
import { Exit } from "../output/errors.js";
import type { Io } from "../output/io.js";
import { visible } from "../output/visible.js";
import { tellWarnings } from "../terminal/warnings.js";
import { again, watchOption } from "../watch/again.js";
import { print, type Block } from "../terminal/layout.js";
import { table } from "../terminal/table.js";
import { tellNext } from "../terminal/next.js";
import { counterInWords, openingInWords, sizeInWords, timerInWords } from "../words.js";
import { commandWithExample, type MakeCommand } from "./command.js";
import { promisesAsText, ratingsAsText } from "./verdicts.js";

/** `lampdrift check`: reads a scenario, says what it describes, and lists ratings and promises for the nominal build. */
export const checkCommand: MakeCommand = ({ io, finish }) =>
  commandWithExample(
    "check",
    "lampdrift check harbour.yaml",
  )
    .argument("<FILE>", "scenario file")
    .option("--json", "print one JSON object and nothing else")
    .addOption(watchOption())
    .action(async (file: string, { json = false, watch = false }: { json?: boolean; watch?: boolean }) => {
      if (watch) await again(io, (inner, reading) => checked(inner, file, { json, reading }));
      else if (await checked(io, file, { json })) finish(Exit.Broken);
    });

/** Checks a file and prints what is found; whether a promise is broken or a rating over. */
async function checked(io: Io, file: string, { json, reading }: { json: boolean; reading?: Reading }): Promise<boolean> {
  const scenario = scenarioOf(await readSource(file, { bases: io.bases, reading }));
  tellWarnings(io, scenario);
  const record = simulate(scenario, { trace: true });
  const rows = ratings(scenario, record);
  const measures = new Measures(record);
  const promises = checkPromises(record, NOMINAL, { measures, ratings: rows });
  if (json) {
    printJson(io, "check", { ...runJson(scenario, figuresOf(measures), promises), ratings: rows });
  } else {
    const notes = [...ratingNotes(scenario, record).map(({ where, text }) => `${where}: ${text}`), ...dayAdvice(record).map(({ text }) => text)];
    print(io.stdout, [
      ...description(scenario),
      ...(notes.length === 0 ? [] : ["", "Notes", ...notes]),
      "",
      "Ratings",
      ...ratingsAsText(rows, scenario.opening),
      "",
      ...(promises.length === 0 ? ["No promises are made."] : ["Promises", ...promisesAsText(promises, scenario.opening)]),
    ]);
  }
  const over = rows.some(({ verdict }) => verdict === "over");
  const broken = promises.some(({ kept }) => !kept);
  if (!json) tellNext(io.stdout, nextAfter(file, over, broken));
  return over || broken;
}

function nextAfter(file: string, over: boolean, broken: boolean): string {
  if (over) return `mend in ${file} what is over its limit, as it says above; then check it again.`;
  if (broken) return `lampdrift run ${file} says what would help to keep what is promised.`;
  return `lampdrift run ${file} says what visitors will see.`;
}

/** What a scenario describes, for a terminal. */
function description(scenario: Scenario): Block[] {
  const times = boardTimes(scenario);
  const boards = table(
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
  ];
}

function remarksOn(scenario: Scenario): string[] {
  const { idleOutputs, shared } = findings(scenario);
  return [
    ...idleOutputs.map(({ board, outputs }) => {
      const which = outputs.length === 1 ? "output" : "outputs";
      return `Board ${board}: nothing on ${which} ${abridged(outputs.map(String))}.`;
    }),
    ...shared.map(({ house, boards }) => `House ${house} is lit by several boards: ${listed(boards)}.`),
  ];
}

function abridged(items: readonly string[]): string {
  const most = 20;
  return items.length <= most ? listed(items) : `${items.slice(0, most).join(", ")} … (${items.length} in all)`;
}
