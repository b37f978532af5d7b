import { compareWithScenario, type Comparison } from "../../sim/fit/expected.js";
import { fitLog, parseLog, type FittedBoard } from "../../sim/fit/index.js";
import { dialAtStep } from "../../sim/knob/settings.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { readScenario, readText } from "../../sim/scenario/file.js";
import { duration } from "../../sim/units/quantities.js";
import { listed, percent, plain, spokenDuration } from "../../sim/units/text.js";
import { Exit, UsageError } from "../output/errors.js";
import { printJson } from "../json/print.js";
import { writePicture } from "../output/picture.js";
import { visible } from "../output/visible.js";
import { print } from "../terminal/layout.js";
import { table, type TextTable } from "../terminal/table.js";
import { tellNext } from "../terminal/next.js";
import { tell } from "../terminal/tell.js";
import { counted } from "../words.js";
import { commandWithExample, type MakeCommand } from "./command.js";
import { nameFrom } from "./options.js";

interface Options {
  readonly scenario?: string;
  readonly picture?: string;
  readonly precision?: string;
  readonly json?: boolean;
}

/** `lampdrift fit`: what a stopwatch log tells about the boards that were built. */
export const fitCommand: MakeCommand = ({ io, finish }) =>
  commandWithExample(
    "fit",
    'lampdrift fit evening.csv --scenario harbour.yaml --precision "0.5 s"',
  )
    .argument("<LOG.csv>", "stopwatch log; changes may have been missed")
    .option("--scenario <FILE>", "compare with what the parts of this scenario can do")
    .option("--picture <FILE.svg>", "draw how far each change was from equal steps; writes over an older picture", nameFrom)
    .option("--precision <TIME>", "say how long to watch until the step time is known to plus or minus this")
    .option("--json", "print one JSON object and nothing else")
    .action(async (file: string, { scenario: plan, picture, precision: wanted, json = false }: Options) => {
      const precision = wanted === undefined ? undefined : precisionOf(wanted);
      const scenario = plan === undefined ? null : await readScenario(plan, io);
      const boards = fitLog(parseLog(await readText(file, "a stopwatch log"), file), file, { precision });
      const comparisons = scenario === null ? null : compareWithScenario(boards, scenario, file);
      if (picture !== undefined) {
        const { drawResiduals } = await import("../pictures/residuals.js");
        await writePicture(picture, (document) => drawResiduals(document, boards));
      }
      if (json) {
        printJson(io, "fit", { boards: boards.map((board, i) => ({ ...board, ...(comparisons === null ? {} : { scenario: comparisons[i]! }) })) });
      } else {
        for (const remark of boards.flatMap((board) => [...slipRemarks(board), ...oddRemarks(board)])) tell(io.stderr, `${file}: ${remark}`);
        const blocks = [boardsTable(boards), LIKELY, readyLines(boards), ...precisionText(boards, precision), ...comparisonText(comparisons, boards)];
        print(io.stdout, blocks.flatMap((block, i) => (i === 0 ? [block] : ["", block])));
        tellNext(io.stdout, nextAfter(boards, scenario, comparisons));
      }
      if (comparisons?.some(({ verdict }) => verdict !== "as planned") === true) finish(Exit.Broken);
    });

/** Which way and how far to turn each knob that stands wrong. */
function nextAfter(boards: readonly FittedBoard[], scenario: Scenario | null, comparisons: readonly Comparison[] | null): string {
  if (scenario === null || comparisons === null) {
    return "put these lines into your file, or hold the log against it with --scenario FILE.";
  }
  const turns = comparisons.flatMap(({ id, verdict, planned }, i) => {
    if (verdict !== "knob") return [];
    const board = scenario.boards.findIndex((one) => one.id === id);
    const wanted = (planned.from + planned.to) / 2;
    const turn = dialAtStep(scenario, board, wanted) - dialAtStep(scenario, board, boards[i]!.stepSeconds);
    return [`turn the knob of ${id} by about ${percent(Math.abs(turn))} of its travel towards ${turn > 0 ? "longer" : "shorter"} ` +
      `steps, to ${spokenDuration(wanted)}`];
  });
  if (turns.length > 0) return `${turns.join("; ")}; then time it again.`;
  return comparisons.every(({ verdict }) => verdict === "as planned")
    ? "nothing to set anew; put these lines into your file, so that it says what was built."
    : "mend the boards that are outside what their parts can do, then time them again.";
}

function precisionOf(text: string): number {
  const value = duration.parse(text);
  if (value === null || value === 0) throw new UsageError(`--precision: found "${visible(text)}"; expected ${duration.accepted}, above 0`);
  return value;
}

const LIKELY = "Likely range: of all logs as long as this one, 95 of 100 give a range that holds the board's true step.";

function boardsTable(boards: readonly FittedBoard[]): TextTable {
  return table(
    ["board", ">rows", ">missed", ">step", ">likely range", ">jitter", ">at most", ">reading error", ">drift an hour"],
    boards.map((board) => [
      board.id,
      String(board.observations),
      String(board.missed),
      fine(board.stepSeconds, board),
      `${fine(board.low, board)} to ${fine(board.high, board)}`,
      board.jitterLow === 0 ? "not seen" : percent(board.jitterSeconds / board.stepSeconds),
      percent(board.jitterHigh / board.stepSeconds),
      spokenDuration(board.readingSeconds),
      driftCell(board),
    ]),
  );
}

function driftCell({ driftPerHour, driftLow, driftHigh }: FittedBoard): string {
  if (driftPerHour === null || driftLow === null || driftHigh === null) return "too few rows";
  const seen = driftLow > 0 || driftHigh < 0;
  return `${seen ? signed(driftPerHour) : "not seen"} (${signed(driftLow)} to ${signed(driftHigh)})`;
}

function signed(share: number): string {
  return `${share > 0 ? "+" : ""}${plain(share * 100, 2)} %`;
}

/** Seconds with as many places as the interval leaves a meaning. */
function fine(seconds: number, { low, high }: FittedBoard): string {
  const half = (high - low) / 2;
  const places = half > 0 ? Math.min(4, Math.max(0, 1 - Math.floor(Math.log10(half)))) : 4;
  return `${plain(Number(seconds.toFixed(places)), 12)} s`;
}

function readyLines(boards: readonly FittedBoard[]): string {
  const lines = boards.map(({ id, timer }) => `  ${id}:\n    ${timer}`);
  return `For the scenario file\nboards:\n${lines.join("\n")}`;
}

function precisionText(boards: readonly FittedBoard[], precision: number | undefined): string[] {
  if (precision === undefined) return [];
  const wanted = `± ${spokenDuration(precision)}`;
  const sentences = boards.map(({ id, low, high, steps, stepsNeeded, stepSeconds }) => {
    if ((high - low) / 2 <= precision) return `${id} is known to ${wanted} already.`;
    if (stepsNeeded === null) return `${id} jitters too much: ${wanted} is out of reach for anybody with a stopwatch.`;
    const more = Math.max(1, stepsNeeded - steps);
    return `${id}: watch on for about ${counted(more, "more step")}, ${spokenDuration(more * stepSeconds)}, to know the step to ${wanted}.`;
  });
  return [sentences.join("\n")];
}

function comparisonText(comparisons: readonly Comparison[] | null, boards: readonly FittedBoard[]): string[] {
  if (comparisons === null) return [];
  const sentences = comparisons.map(({ id, planned, possible, verdict, multiple }, i) => {
    const measured = spokenDuration(boards[i]!.stepSeconds);
    const plan = `${spokenDuration(planned.from)} to ${spokenDuration(planned.to)}`;
    if (verdict === "as planned") return `${id}: ${measured} is as planned (${plan}).`;
    const seen = multiple === null ? "" : ` It is about ${multiple} times that: was every change noted, of all houses of the board?`;
    if (verdict === "knob") return `${id}: ${measured} is not what was planned (${plan}), but the knob reaches it: set it anew.${seen}`;
    const side = boards[i]!.stepSeconds > planned.to ? "longer" : "shorter";
    const reach = possible === null ? plan : `${spokenDuration(possible.from)} to ${spokenDuration(possible.to)} wherever the knob stands`;
    return `${id}: ${measured} is ${side} than planned and outside what these parts can do (${reach}): check the capacitor, its value ` +
      `and its leakage.${seen}`;
  });
  return [`Against the scenario\n${sentences.join("\n")}`];
}

function slipRemarks({ id, slips }: FittedBoard): string[] {
  return slips.map(({ line, offSeconds }) => `board ${id}: line ${line} is about ${spokenDuration(Math.abs(offSeconds))} too ` +
    `${offSeconds > 0 ? "late" : "early"}, a slip, and is left out`);
}

function oddRemarks({ id, oddLines }: FittedBoard): string[] {
  if (oddLines.length === 0) return [];
  const told = oddLines.slice(0, 10).map(String);
  const which = oddLines.length > told.length ? `${told.join(", ")} and ${oddLines.length - told.length} more` : listed(told);
  const lines = oddLines.length === 1 ? "line" : "lines";
  return [
    `board ${id}: the interval before ${lines} ${which} is no whole number of steps, or too long to count them, and is left out; a ` +
      "slip, or the longer first step after switch-on?",
  ];
}
