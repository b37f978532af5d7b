import { readText } from "../../sim/scenario/file.js";
import {
  parseRange,
  parseStock,
  planParts,
  type Choice,
  type PartsAnswer,
  type Range,
  scenarioLines,
} from "../../sim/timerparts/index.js";
import { sharedUnitText } from "../../sim/units/durationrange.js";
import { amps, farads, ohms, volts } from "../../sim/units/quantities.js";
import { plain, spokenDuration } from "../../sim/units/text.js";
import { Exit, UsageError } from "../output/errors.js";
import { printJson } from "../json/print.js";
import { visible } from "../output/visible.js";
import { print, type Block } from "../terminal/layout.js";
import { table } from "../terminal/table.js";
import { tellNext } from "../terminal/next.js";
import { commandWithExample, type MakeCommand } from "./command.js";

interface Options {
  readonly range: string;
  readonly wanted?: string;
  readonly supply?: string;
  readonly chip?: string;
  readonly series?: string;
  readonly stock?: string;
  readonly divider: boolean;
  readonly json?: boolean;
}

/** `lampdrift parts`: timer parts whose knob covers a range of step times whatever the parts. */
export const partsCommand: MakeCommand = ({ io, finish }) =>
  commandWithExample(
    "parts",
    'lampdrift parts --range "30 s..6 min" --wanted "2 min..4 min"',
  )
    .requiredOption("--range <FROM..TO>", "step times that the knob must reach, such as \"30 s..6 min\" or \"2-4 min\"")
    .option("--wanted <FROM..TO>", "step times that will really be set (default: the whole range)")
    .option("--supply <VOLTS>", "supply of the timer (default: 12 V)")
    .option("--chip <KIND>", "bipolar, cmos, LMC555, TLC555, ICM7555 or ideal (default: cmos)")
    .option("--series <NAME>", "preferred values of the fixed resistors, E3 to E192 (default: E12)")
    .option("--stock <FILE>", "choose from your own parts: one a line, such as \"10k\", \"100k 1 % metal\" or \"trimmer 500k ±20 %\"")
    .option("--no-divider", "leave out sets with a divider between timer and counter")
    .option("--json", "print one JSON object and nothing else")
    .action(async ({ range, wanted, supply, chip, series, stock, divider, json = false }: Options) => {
      const reach = parseRange(range, "range");
      const set = wanted === undefined ? reach : parseRange(wanted, "wanted");
      const planned = planParts({
        range: reach,
        wanted: set,
        divider,
        supply: supply === undefined ? undefined : voltsOf(supply),
        chip,
        series,
        stock: stock === undefined ? undefined : parseStock(await readText(stock, "a list of parts"), stock),
      });
      const taken = [sharedUnitText(range, reach), wanted === undefined ? null : sharedUnitText(wanted, set)];
      const answer = { ...planned, assumptions: [...taken.filter((sentence) => sentence !== null), ...planned.assumptions] };
      if (json) printJson(io, "parts", answer);
      else {
        print(io.stdout, answerAsText(answer, set));
        tellNext(io.stdout, answer.choices.length === 0
          ? "ask for a narrower --range, or leave out --stock and --no-divider."
          : "put the lines of one choice into a board of your file, then: lampdrift check FILE");
      }
      if (answer.choices.length === 0) finish(Exit.BadInput);
    });

function voltsOf(text: string): number {
  const value = volts.parse(text);
  if (value === null) throw new UsageError(`--supply: found "${visible(text)}"; expected ${volts.accepted}`);
  return value;
}

function answerAsText({ choices, nearMisses, reason, assumptions }: PartsAnswer, wanted: Range): Block[] {
  return [
    ...(reason === null ? choicesAsText(choices, wanted) : [`No parts do this. ${reason}`]),
    ...(nearMisses.length === 0 ? [] : ["", "Near misses", ...nearMisses.map((miss) => `- ${partsInWords(miss)}: ${miss.why}`)]),
    "",
    "Taken for granted",
    ...assumptions.map((assumption) => `- ${assumption}`),
  ];
}

function choicesAsText(choices: PartsAnswer["choices"], wanted: Range): Block[] {
  const drawn = table(
    [">", "ra", "rb", "trimmer", "capacitor", ">divide", ">nominal", ">at the worst", ">leakage budget", ">published limit"],
    choices.map((choice, i) => [
      String(i + 1),
      ohms.format(choice.ra),
      ohms.format(choice.rb),
      `${ohms.format(choice.trimmer.value)} in ${choice.trimmer.in}`,
      `${farads.format(choice.c)} ${choice.capacitor.type}`,
      choice.divide === 1 ? "no" : String(choice.divide),
      rangeInWords(choice.nominal),
      rangeInWords(choice.corners),
      spokenAmps(choice.leakageBudget),
      spokenAmps(choice.capacitor.publishedLeakage),
    ]),
  );
  const each = choices.flatMap((choice, i) => {
    const lines = scenarioLines(choice, wanted).map((line) => `       ${line}`);
    return ["", `${i + 1}. ${choice.reasons.join(" ")}`, "   For a board of a scenario file:", ...lines];
  });
  return [drawn, ...each];
}

function partsInWords({ ra, rb, trimmer, c, capacitor, divide }: Choice): string {
  const divided = divide === 1 ? "" : `, divided by ${divide}`;
  return `${ohms.format(ra)}, ${ohms.format(rb)}, trimmer ${ohms.format(trimmer.value)} in ${trimmer.in}, ${farads.format(c)} ` +
    `${capacitor.type}${divided}`;
}

function rangeInWords({ from, to }: { from: number; to: number }): string {
  return `${spokenDuration(from)} to ${spokenDuration(to)}`;
}

/** An amount of current to three figures. */
function spokenAmps(value: number): string {
  return Number.isFinite(value) && value > 0 ? amps.format(Number(value.toPrecision(3))) : plain(0, 1) + " A";
}
