import { availableParallelism } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { figuresOf } from "../../sim/figures/index.js";
import { Measures } from "../../sim/figures/measures.js";
import { simulate } from "../../sim/engine/simulate.js";
import { checkPromises } from "../../sim/promises/index.js";
import { ratingNotes, ratings } from "../../sim/ratings/index.js";
import { readSource, type Reading } from "../../sim/scenario/file.js";
import { scenarioOf } from "../../sim/scenario/read.js";
import type { Source } from "../../sim/scenario/source.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { NOMINAL } from "../../sim/timers/build.js";
import type { Spread } from "../../sim/spread/index.js";
import type { Picture } from "../../sim/model/picture.js";
import { openOnDesktop } from "../output/desktop.js";
import { Exit, UsageError, userMessage } from "../output/errors.js";
import { directoryFor } from "../output/files.js";
import { writeFolder } from "../output/folder.js";
import type { Io } from "../output/io.js";
import { jsonText, runJson } from "../json/print.js";
import { visible } from "../output/visible.js";
import { VERSION } from "../output/version.js";
import { progressBar } from "../output/progress.js";
import { tellWarnings } from "../terminal/warnings.js";
import { again, watchOption } from "../watch/again.js";
import type { ReportInput } from "../page/section.js";
import { photoFrom, pictureFileName } from "../pictures/photo.js";
import { tellNext } from "../terminal/next.js";
import { tell } from "../terminal/tell.js";
import { dateFrom } from "./cards.js";
import { commandWithExample, type MakeCommand } from "./command.js";
import { isBroken } from "./verdicts.js";
import { nameFrom, wholeFrom } from "./options.js";
import { tellWritten } from "./written.js";

interface Options {
  readonly out?: string;
  readonly day: number;
  readonly builds: number;
  readonly dated?: string;
  readonly by?: string;
  readonly summary?: boolean;
  readonly watch?: boolean;
  readonly port?: number;
  readonly open?: boolean;
}

/** `lampdrift report`: the committee's report, pictures, figures and tables in one directory. */
export const reportCommand: MakeCommand = ({ io, finish }) =>
  commandWithExample("report", "lampdrift report harbour.yaml -o out/harbour")
    .argument("<FILE>", "scenario file")
    .option("-o, --out <DIR>", "directory to write into (default: out/ and the name of the file)", nameFrom)
    .option("--day <N>", "opening that the timeline shows", wholeFrom(1, 100_000), 1)
    .option("--builds <N>", "builds to draw from the tolerances; 0 leaves that section out", wholeFrom(0, 100_000), 200)
    .option("--dated <DATE>", "date to print on the report, such as 2031-05-17 (default: none)", dateFrom)
    .option("--by <NAME>", "who made it, to print on the report (default: nobody)", authorFrom)
    .option("--summary", "write summary.html too: one page to print for the committee, with what it is asked")
    .addOption(watchOption())
    .option("--port <N>", "with --watch: port to show the page on (default: any that is free)", wholeFrom(1, 65_535))
    .option("--open", "open the page on the desktop")
    .action(async (file: string, options: Options) => {
      const { out = directoryFor(file), watch = false, port, open = false } = options;
      if (port !== undefined && !watch) throw new UsageError("--port goes with --watch");
      if (watch) {
        await keptUp(io, file, { ...options, out, open });
        return;
      }
      const { broken } = await written(io, file, { ...options, out });
      if (broken) finish(Exit.Broken);
      if (open) await opened(io, pathToFileURL(join(out, "index.html")).href);
      else tellNext(io.stdout, `open ${join(out, "index.html")} in a browser; lampdrift cards ${file} draws what stays with the display.`);
    });

/** Serves the report on this machine, and writes it again whenever its scenario changes. */
async function keptUp(io: Io, file: string, options: Options & { readonly out: string; readonly open: boolean }): Promise<void> {
  const { ReportServer } = await import("../watch/server.js");
  const server = await ReportServer.start(options.out, options.port);
  try {
    tell(io.stderr, `the page is shown at ${server.url}`);
    if (options.open) await opened(io, server.url);
    await again(io, async (inner, reading, signal) => {
      try {
        server.show((await written(inner, file, options, reading, signal)).page);
      } catch (error) {
        server.tell(userMessage(error) ?? "the program has met a fault of its own");
        throw error;
      }
    });
  } finally {
    await server.close();
  }
}

async function opened({ stderr }: Io, address: string): Promise<void> {
  if (await openOnDesktop(address)) return;
  tell(stderr, `there is no desktop here to open the page on; it is at ${address}`);
}

/** What was written. */
interface Written {
  readonly page: string;
  /** Whether a promise is broken or a rating over. */
  readonly broken: boolean;
}

/** Writes the report, and says where. */
async function written(
  io: Io,
  file: string,
  { out, ...options }: Options & { readonly out: string },
  reading?: Reading,
  signal?: AbortSignal,
): Promise<Written> {
  const source = await readSource(file, { bases: io.bases, reading });
  const scenario = scenarioOf(source);
  const { day } = options;
  tellWarnings(io, scenario);
  if (day > scenario.opening.run) {
    throw new UsageError(`--day ${day}: the scenario runs for ${scenario.opening.run} openings; expected 1 to ${scenario.opening.run}`);
  }
  // from the beginning, since the nominal build of a large display takes its time, too
  const bar = options.builds === 0 ? null : progressBar(io, "builds", options.builds);
  const { files, broken, scenes } = await made(source, scenario, options, (done) => bar?.update(done), signal).finally(() => bar?.stop());
  if (!files.has("scenes.csv")) {
    tell(io.stderr, `scenes.csv is left out: the table of ${scenes} scenes would be too long to open; ` +
      "lampdrift export --as csv writes the spells one by one");
  }
  await writeFolder(out, "report", files);
  tellWritten(io, out, "index.html", files);
  return { page: String(files.get("index.html")), broken };
}

/** The files of a report. */
async function made(
  source: Source,
  scenario: Scenario,
  { day, builds, dated, by, summary = false }: Options,
  progress: (builds: number) => void,
  signal?: AbortSignal,
): Promise<{ readonly files: Map<string, string | Uint8Array>; readonly broken: boolean; readonly scenes: number }> {
  // a source whose picture cannot be taken gives no scenario
  const picture = source.picture as Picture | null;
  const record = simulate(scenario, { trace: true });
  const measures = new Measures(record);
  const found = figuresOf(measures);
  // builds are simulated in threads of their own while this one loads what it draws with, which takes its time
  const [{ buildReport }, { filesOf, liveScript }, spread] = await Promise.all([
    import("../page/report.js"),
    import("../page/live.js"),
    builds === 0 ? null : drawBuilds(scenario, builds, progress, signal),
  ]);
  const photo = picture === null ? null : photoFrom(picture);
  const rows = ratings(scenario, record);
  const promises = checkPromises(record, NOMINAL, { measures, ratings: rows });
  const input: ReportInput = {
    scenario,
    record,
    figures: found,
    ratings: rows,
    notes: ratingNotes(scenario, record),
    promises,
    spread,
    photo,
    version: VERSION,
    day,
    dated: dated ?? null,
    by,
    live: { ...(await liveScript()), embedded: { version: VERSION, files: filesOf(source), day, picture: photo?.name ?? null } },
  };
  const files = new Map<string, string | Uint8Array>(buildReport(input));
  if (summary) files.set("summary.html", (await import("../page/summary.js")).summaryPage(input));
  files.set("figures.json", `${jsonText(runJson(scenario, found, promises), 2)}\n`);
  if (picture !== null && photo !== null) files.set(pictureFileName(photo), picture.bytes);
  return { files, broken: isBroken(promises, rows), scenes: record.scenes.length };
}

/** Reads the name that `--by` gives. */
function authorFrom(text: string): string {
  const name = text.trim();
  if (name !== "" && name.length <= 80 && !/[\p{Cc}\u2028\u2029]/u.test(name)) return name;
  throw new UsageError(`--by: found "${visible(text.slice(0, 60))}"; expected a name of 1 to 80 characters on one line`);
}

async function drawBuilds(scenario: Scenario, builds: number, progress: (done: number) => void, signal?: AbortSignal): Promise<Spread> {
  const { spread } = await import("../../sim/spread/index.js");
  return spread(scenario, { builds, workers: Math.min(2, availableParallelism()), curves: true, signal, progress });
}
