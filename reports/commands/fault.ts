import { createInterface } from "node:readline";
import { diagnose, Drill, faultTable } from "../../sim/faults/index.js";
import { readScenario } from "../../sim/scenario/file.js";
import { UsageError } from "../output/errors.js";
import type { Io } from "../output/io.js";
import { printJson } from "../json/print.js";
import { print } from "../terminal/layout.js";
import { spokenDuration } from "../../sim/units/text.js";
import { toSeconds } from "../../sim/units/time.js";
import { commandWithExample, type MakeCommand } from "./command.js";
import { diagnosisAsJson, diagnosisAsText } from "./diagnosis.js";
import { observationsOf, SEEN_OPTIONS, timeWithin, type Seen } from "./observed.js";

interface Options extends Seen {
  readonly watched?: string;
  readonly drill?: string | true;
  readonly json?: boolean;
}

const NOTHING_SEEN = Object.fromEntries(SEEN_OPTIONS.map(({ key }) => [key, []])) as unknown as Seen;

const HELP = `
A house or board may have its own time in place of --watched:
--dark "inn@12 min", --times "inn@12 min=2".
A house may be looked at only while another is lit: --dark "inn while bakery",
--lit "inn@40 min while bakery".`;

/** `lampdrift fault`: what could be wrong, from what is seen; or, as a drill, a fault to find. */
export const faultCommand: MakeCommand = ({ io }) =>
  commandWithExample(
    "fault",
    'lampdrift fault harbour.yaml --dark inn,bakery --frozen quay --watched "40 min"',
  )
    .argument("<FILE>", "scenario file")
    .option("--dark <HOUSES>", "houses that stayed dark from switch-on all the time watched, with commas between", listOf)
    .option("--lit <HOUSES>", "houses that stayed lit all the time watched", listOf)
    .option("--changing <HOUSES>", "houses that were seen both dark and lit", listOf)
    .option("--times <HOUSE=N>", "houses that came on N times; lit at switch-on counts as once", listOf)
    .option("--frozen <BOARDS>", "boards whose houses did not change", listOf)
    .option("--slow <BOARDS>", "boards whose houses changed clearly less often than they should", listOf)
    .option("--fast <BOARDS>", "boards whose houses changed clearly more often than they should", listOf)
    .option("--on-pace <BOARDS>", "boards whose houses changed as often as they should", listOf)
    .option("--watched <TIME>", 'how long one looked, from switch-on, such as "40 min" (left out: not known)')
    .option("--dark-at <HOUSE@TIME>", "houses that were dark at a moment after switch-on", listOf)
    .option("--lit-at <HOUSE@TIME>", "houses that were lit at a moment after switch-on", listOf)
    .option("--drill [SEED]", "hide a fault to be found, and answer questions on standard input; the same SEED hides the same one")
    .option("--json", "print one JSON object and nothing else")
    .addHelpText("after", HELP)
    .action(async (file: string, given: Partial<Options>) => {
      const options: Options = { ...NOTHING_SEEN, ...given };
      const scenario = await readScenario(file, io);
      if (options.drill !== undefined) {
        refuseWithDrill(options);
        const seed = options.drill === true ? scenario.seed : options.drill;
        await drill(io, new Drill(faultTable(scenario), seed));
        return;
      }
      if (SEEN_OPTIONS.every(({ key }) => options[key].length === 0)) {
        throw new UsageError(
          "nothing to explain; say what was seen: --dark, --lit or --changing HOUSES, --frozen, --slow, --fast or --on-pace BOARDS, " +
            "--times HOUSE=N, --dark-at or --lit-at HOUSE@TIME",
        );
      }
      const table = faultTable(scenario);
      const watched = options.watched === undefined ? null : timeWithin(table, options.watched, "--watched");
      const { slowestCycle } = table;
      const seen = observationsOf(table, options, watched ?? slowestCycle);
      const found = diagnose(table, seen, watched ?? slowestCycle);
      if (options.json === true) {
        printJson(io, "fault", diagnosisAsJson(scenario, found, watched ?? slowestCycle, watched !== null));
        return;
      }
      print(io.stdout, [
        ...(watched === null
          ? [notWatched(slowestCycle), ""]
          : []),
        diagnosisAsText(scenario, seen, found),
      ]);
    });

/** Said where nobody gave the time for which the display was watched. */
function notWatched(slowestCycle: number): string {
  return (
    "For how long one watched is not known. All that is given without a time is ranked as if seen throughout the first " +
    `${spokenDuration(toSeconds(slowestCycle))} after switch-on; --watched "40 min" says how long it was.`
  );
}

function listOf(text: string, before: readonly string[] = []): string[] {
  const items = text.split(",").map((item) => item.trim());
  return [...before, ...items.filter((item) => item !== "")];
}

function refuseWithDrill(options: Options): void {
  const given = [
    ...SEEN_OPTIONS.flatMap(({ key, option }) => (options[key].length > 0 ? [option] : [])),
    ...(options.watched === undefined ? [] : ["--watched"]),
    ...(options.json === true ? ["--json"] : []),
  ];
  if (given.length > 0) throw new UsageError(`--drill goes without ${given.join(", ")}: what is seen is asked for on standard input`);
}

/** Questions on standard input, answers on standard output, until the fault is found, given up, or the input ends. */
async function drill({ stdin, stdout }: Io, session: Drill): Promise<void> {
  const say = (text: string): void => {
    if (text !== "") print(stdout, [text]);
  };
  say(session.intro());
  if (session.isOver()) return;
  const lines = createInterface({ input: stdin, terminal: false });
  for await (const line of lines) {
    say(session.answer(line));
    if (session.isOver()) break;
  }
  lines.close();
  if (!session.isOver()) say(session.giveUp());
}
