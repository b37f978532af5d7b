import { bill, type Bill, type BillItem } from "../../sim/bill/index.js";
import { readScenario } from "../../sim/scenario/file.js";
import { ratio } from "../../sim/units/relative.js";
import { csv } from "../output/csv.js";
import { UsageError } from "../output/errors.js";
import { printJson } from "../json/print.js";
import { visible } from "../output/visible.js";
import { tellWarnings } from "../terminal/warnings.js";
import { print, type Block } from "../terminal/layout.js";
import { table } from "../terminal/table.js";
import { tellNext } from "../terminal/next.js";
import { commandWithExample, type MakeCommand } from "./command.js";

interface Options {
  readonly spares?: number;
  readonly csv?: boolean;
  readonly json?: boolean;
}

/** Ten times as many spares as pieces are a slip of the pen. */
const SPARES_MOST = 10;

/** `lampdrift bill`: what to buy for all boards, lamps and wires, by the names of the wiring cards. */
export const billCommand: MakeCommand = ({ io }) =>
  commandWithExample("bill", "lampdrift bill harbour.yaml --spares 10%")
    .argument("<FILE>", "scenario file")
    .option("--spares <SHARE>", "how much to buy besides, such as 10%, in whole pieces of each kind (default: none)", sharesFrom)
    .option("--csv", "print comma-separated values")
    .option("--json", "print one JSON object and nothing else")
    .action(async (file: string, { spares = 0, csv: asCsv = false, json = false }: Options) => {
      if (asCsv && json) throw new UsageError("--csv and --json cannot both be printed; give one of them");
      const scenario = await readScenario(file, io);
      tellWarnings(io, scenario);
      const found = bill(scenario, spares);
      const boards = scenario.boards.map(({ id }) => id);
      if (json) printJson(io, "bill", found);
      else if (asCsv) io.stdout.write(billAsCsv(found, boards));
      else {
        print(io.stdout, billAsText(found, boards));
        tellNext(io.stdout, `lampdrift cards ${file} draws how it is wired, by the same names.`);
      }
    });

function sharesFrom(text: string): number {
  const share = ratio.parse(text);
  if (typeof share === "number" && share >= 0 && share <= SPARES_MOST) return share;
  throw new UsageError(`--spares: found "${visible(text.slice(0, 60))}"; expected a share such as "10%"`);
}

/** Pieces as a number; wire as metres. */
const amount = (what: BillItem["what"], count: number): string => (what === "wire" ? `${count} m` : String(count));

/** A table with a column for each board while they are few, and what was left out below it. */
function billAsText({ items, notes }: Bill, boards: readonly string[]): Block[] {
  const few = boards.length <= 4;
  const heads = ["part", "value", "rating", ">count", ">spares", ...(few && boards.length > 1 ? boards.map((id) => `>${id}`) : [])];
  const rows = items.map(({ what, value, rating, count, spares, boards: counts }) => [
    what,
    value,
    rating ?? "",
    amount(what, count),
    spares === 0 ? "" : amount(what, spares),
    ...(few && boards.length > 1 ? boards.map((id) => (counts[id] === undefined ? "" : amount(what, counts[id]))) : []),
  ]);
  return [table(heads, rows), "", ...notes];
}

function billAsCsv({ items }: Bill, boards: readonly string[]): string {
  const head = ["what", "value", "rating", "count", "spares", ...boards, "references"];
  const rows = items.map(({ what, value, rating, count, spares, boards: counts, references }) => [
    what,
    value,
    rating,
    count,
    spares,
    ...boards.map((id) => counts[id] ?? 0),
    boards.flatMap((id) => (references[id] === undefined ? [] : [`${id}: ${references[id].join(", ")}`])).join("; "),
  ]);
  return csv(head, rows);
}
