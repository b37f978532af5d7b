import { listenedRun } from "../../sim/engine/simulate.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { readScenario } from "../../sim/scenario/file.js";
import { HouseSpellsCsvExporter, SpellsCsvExporter } from "../export/csv.js";
import type { Exporter } from "../export/exporter.js";
import { JsonExporter } from "../export/json.js";
import { VcdExporter } from "../export/vcd.js";
import { UsageError } from "../output/errors.js";
import { pourInto } from "../output/io.js";
import { NewFile } from "../output/newfile.js";
import { progressBar } from "../output/progress.js";
import { tell } from "../terminal/tell.js";
import { commandWithExample, type MakeCommand } from "./command.js";
import { nameFrom } from "./options.js";
import { Option } from "commander";

interface Options {
  readonly as: keyof typeof FORMATS;
  readonly days?: string;
  readonly houses?: boolean;
  readonly out?: string;
}

type Wanted = (opening: number) => boolean;

const FORMATS = {
  vcd: (scenario: Scenario, wanted: Wanted): Exporter => new VcdExporter(scenario, wanted),
  csv: (scenario: Scenario, wanted: Wanted): Exporter => new SpellsCsvExporter(scenario, wanted),
  json: (scenario: Scenario, wanted: Wanted): Exporter => new JsonExporter(scenario, wanted),
};

/** Events between two pieces of text: some hundred kilobytes at the most. */
const EVENTS = 5000;

/** `lampdrift export`: the scene record for other programs, written while the display runs. */
export const exportCommand: MakeCommand = ({ io }) =>
  commandWithExample("export", "lampdrift export harbour.yaml --as vcd --days 1..3 " +
    "-o harbour.vcd")
    .argument("<FILE>", "scenario file")
    .addOption(
      new Option("--as <FORMAT>", "vcd: value change dump of IEEE 1364, for waveform viewers; csv: a row a spell; json: the whole record")
        .choices(Object.keys(FORMATS))
        .makeOptionMandatory(),
    )
    .option("--days <A..B>", "openings to write, such as 2 or 1..3; default: all")
    .option("--houses", "with csv: a row for each stretch in which one house is lit or dark")
    .option("-o, --out <FILE>", "write into this file instead of standard output; writes over an older one", nameFrom)
    .action(async (file: string, { as, days, houses = false, out }: Options) => {
      if (houses && as !== "csv") throw new UsageError("--houses goes with --as csv");
      const scenario = await readScenario(file, io);
      const { first, last } = parseDays(days, scenario.opening.run);
      const wanted: Wanted = (opening) => opening >= first && opening <= last;
      // nothing after the last opening that was asked for matters
      const run = { ...scenario, opening: { ...scenario.opening, run: last + 1 } };
      const exporter = houses ? new HouseSpellsCsvExporter(run, wanted) : FORMATS[as](run, wanted);
      if (out === undefined) {
        await pour(run, exporter, (text) => pourInto(io.stdout, text));
        return;
      }
      const bar = progressBar(io, "openings", last + 1);
      const target = await NewFile.open(out);
      try {
        await pour(run, exporter, (text) => target.write(text), bar.update);
        await target.keep();
      } catch (error) {
        await target.discard();
        throw error;
      } finally {
        bar.stop();
      }
      tell(io.stderr, `wrote ${out}`);
    });

/** Runs the display and hands the text on, piece by piece, until `write` says that nobody wants more. */
async function pour(
  scenario: Scenario,
  exporter: Exporter,
  write: (text: string) => Promise<boolean>,
  progress: (opening: number) => void = () => undefined,
): Promise<void> {
  let opening = 0;
  const run = listenedRun(scenario, {
    opens: (hours, n) => {
      opening = n;
      exporter.opens(hours, n);
    },
    spell: (time, scene, lit) => exporter.spell(time, scene, lit),
    closes: (hours, n) => exporter.closes(hours, n),
    moves: (time, board, step) => exporter.moves(time, board, step),
  });
  for (let more = true; more; ) {
    more = run.advance(EVENTS);
    if (!more) exporter.ends();
    const text = exporter.take();
    if (text !== "" && !(await write(text))) return;
    progress(opening);
  }
}

/** Openings by number from 1, both included; counted from 0 in what is returned. */
function parseDays(text: string | undefined, run: number): { first: number; last: number } {
  if (text === undefined) return { first: 0, last: run - 1 };
  const [, from = "", , to = from] = /^\s*(\d{1,6})(\s*\.\.\s*(\d{1,6}))?\s*$/.exec(text) ?? [];
  const [first, last] = [Number(from), Number(to)];
  if (from !== "" && first >= 1 && last >= first && last <= run) return { first: first - 1, last: last - 1 };
  throw new UsageError(`--days: found ${JSON.stringify(text)}; expected one opening or a range of them from 1 to ${run}, such as ` +
    `1..${Math.min(3, run)}`);
}
