import { threads } from "../../sim/crew/threads.js";
import { readSource } from "../../sim/scenario/file.js";
import { scenarioOf } from "../../sim/scenario/read.js";
import type { Source } from "../../sim/scenario/source.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { boardTimes } from "../../sim/timers/boardtimes.js";
import { parseKeep, tune, type TunedSetting } from "../../sim/tune/index.js";
import { settingPlace, writtenWith } from "../../sim/tune/write.js";
import { readDurationRange } from "../../sim/units/durationrange.js";
import { Exit, UsageError } from "../output/errors.js";
import { writeNew } from "../output/files.js";
import { printJson } from "../json/print.js";
import { writePicture } from "../output/picture.js";
import { progressBar } from "../output/progress.js";
import { visible } from "../output/visible.js";
import { print } from "../terminal/layout.js";
import { tellNext } from "../terminal/next.js";
import { tell } from "../terminal/tell.js";
import { commandWithExample, type MakeCommand } from "./command.js";
import { withInterrupt } from "./interrupt.js";
import { placed, type Placed } from "./placed.js";
import { nameFrom, wholeFrom, workersOption } from "./options.js";
import { tuningAsText } from "./tuning.js";

interface Options {
  readonly keep?: readonly string[];
  readonly between?: string;
  readonly builds: number;
  readonly workers: number;
  readonly write?: string;
  readonly map?: string;
  readonly json?: boolean;
}

/** `lampdrift tune`: knob settings that keep the promised steps and show the same scene least often. */
export const tuneCommand: MakeCommand = ({ io, finish }) =>
  commandWithExample(
    "tune",
    'lampdrift tune harbour.yaml --keep "quay=2 min 50 s" --write harbour-tuned.yaml',
  )
    .argument("<FILE>", "scenario file")
    .option("--keep <BOARD=TIME...>", "leave the knobs of these boards at a step time, or where they are (a board alone)")
    .option(
      "--between <FROM..TO>",
      "step times to stay between, such as 2min..4min (default: a step promise, else half to twice today's)",
    )
    .option("--builds <N>", "builds to try the best settings on", wholeFrom(1, 10_000), 50)
    .addOption(workersOption())
    .option("--write <NEW.yaml>", "write the scenario with the best setting; never overwrites", nameFrom)
    .option("--map <FILE.svg>", "draw the score over the two knobs that matter most; writes over an older picture", nameFrom)
    .option("--json", "print one JSON object and nothing else")
    .action(async (file: string, { keep = [], between, builds, workers, write, map, json = false }: Options) => {
      const source = await readSource(file, io);
      const scenario = scenarioOf(source);
      const kept = parseKeep(keep, scenario);
      const bar = progressBar(io, "percent", 100);
      const range = between === undefined ? null : rangeOf(between);
      const tuning = await withInterrupt(io, (signal) =>
        tune(scenario, {
          keep: kept,
          between: range,
          builds,
          hire: threads(workers),
          signal,
          progress: (done, total) => bar.update(Math.round((100 * done) / total)),
        }),
      );
      bar.stop();
      const { stopped } = tuning;
      const [best] = tuning.settings;
      if (stopped) finish(Exit.Stopped);
      if (best === undefined && stopped) {
        if (json) printJson(io, "tune", tuning);
        else print(io.stdout, [scenario.title, "Stopped before any setting had been tried."]);
        return;
      }
      if (best === undefined) throw new UsageError(`${file}: in every build a timer stalls, whatever the knobs; "lampdrift ` +
        `check" says why`);
      if (map !== undefined) {
        const { drawScoreMap } = await import("../pictures/scoremap.js");
        await writePicture(map, (document) => drawScoreMap(document, tuning.map));
      }
      if (write !== undefined) {
        const { text, next } = tunedText(scenario, source, write, best);
        await writeNew(write, text);
        tell(io.stderr, `wrote ${write} with the best setting${stopped ? " so far" : ""}; ${next}`);
      }
      if (json) printJson(io, "tune", tuning);
      else {
        print(io.stdout, [scenario.title, ...tuningAsText(tuning, between !== undefined)]);
        tellNext(io.stdout, write === undefined
          ? `lampdrift tune ${file} --write NEW.yaml writes the best setting into a copy of the file.`
          : `lampdrift compare ${file} ${write} shows what it buys.`);
      }
      if (!stopped && best.promises.some(({ kept: n, builds: of }) => n < of)) finish(Exit.Broken);
    });

/** The scenario file with the knobs of a setting; a knob that stays is left as it is written. */
function tunedText(scenario: Scenario, source: Source, to: string, { boards }: TunedSetting): Placed {
  const { data, file } = source;
  const now = boardTimes(scenario);
  const settings = Object.entries(boards)
    .map(([id, { stepSeconds }]) => ({ id, stepSeconds: Math.round(stepSeconds * 1000) / 1000 }))
    .filter(({ id, stepSeconds }) => Math.abs(stepSeconds - now[scenario.boards.findIndex((board) => board.id === id)]!.stepSeconds) > 5e-4);
  return placed(writtenWith(source.texts[0]!, settings, (id) => settingPlace(data, id), file), file, to);
}

function rangeOf(text: string): { from: number; to: number } {
  const range = readDurationRange(text);
  if (range !== null && range.from > 0 && range.from < range.to) return range;
  throw new UsageError(`--between: found "${visible(text)}"; expected two step times, the shorter first, such as "2 min..4 min"`);
}
