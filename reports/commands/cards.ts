import { faultTable, type FaultTable } from "../../sim/faults/index.js";
import { InputError } from "../../sim/errors.js";
import { readSource } from "../../sim/scenario/file.js";
import { scenarioOf } from "../../sim/scenario/read.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { digestOf } from "../output/digest.js";
import { UsageError } from "../output/errors.js";
import { staleCards, type Stale } from "../cards/stale.js";
import { print } from "../terminal/layout.js";
import { directoryFor } from "../output/files.js";
import { writeFolder } from "../output/folder.js";
import { progressBar } from "../output/progress.js";
import type { CardsInput } from "../cards/cards.js";
import type { Io } from "../output/io.js";
import { visible } from "../output/visible.js";
import { tellWarnings } from "../terminal/warnings.js";
import { tellNext } from "../terminal/next.js";
import { tell } from "../terminal/tell.js";
import { commandWithExample, type MakeCommand } from "./command.js";
import { nameFrom } from "./options.js";
import { tellWritten } from "./written.js";

interface Options {
  readonly out?: string;
  readonly dated?: string;
  readonly since?: string;
}

/** `lampdrift cards`: what stays with the display, to be printed: how each board is wired and set, and how to find a fault. */
export const cardsCommand: MakeCommand = ({ io }) =>
  commandWithExample(
    "cards",
    "lampdrift cards harbour.yaml -o out/harbour --dated 2031-05-17",
  )
    .argument("<FILE>", "scenario file")
    .option("-o, --out <DIR>", "directory to write into (default: out/ and the name of the file)", nameFrom)
    .option("--dated <DATE>", "date to print on the cards, such as 2031-05-17 (default: none)", dateFrom)
    .option("--since <OLD>", "an earlier state of the scenario file: says which cards the change since then makes stale")
    .action(async (file: string, { out, dated, since }: Options) => {
      const source = await readSource(file, io);
      const scenario = scenarioOf(source);
      tellWarnings(io, scenario);
      const facts = { digest: digestOf(source.texts), dated: dated ?? null };
      const files = await cardsOf(io, scenario, facts);
      const directory = out ?? directoryFor(file);
      await writeFolder(directory, "cards", files);
      tellWritten(io, directory, "cards.html", files);
      if (since !== undefined) {
        const old = scenarioOf(await readSource(since, io));
        print(io.stdout, staleInWords(since, staleCards(await cardsOf(io, old, facts), files)));
      }
      tellNext(io.stdout, "open it in a browser, print it at 100 %, and check the ruler line on the paper.");
    });

function staleInWords(since: string, { again, still, gone }: Stale): string[] {
  const named = (names: readonly string[]): string => `${names.join(", ")}.`;
  if (again.length + gone.length === 0) return [`Since ${visible(since)} no card has changed, but for the version that is printed on it.`];
  return [
    ...(again.length === 0 ? [] : [`Stale since ${visible(since)}, to be printed again: ${named(again)}`]),
    ...(gone.length === 0 ? [] : [`No longer needed, to be thrown away: ${named(gone)}`]),
    ...(still.length === 0 ? [] : [`Still good, but for the version that is printed on them: ${named(still)}`]),
  ];
}

/**
 * The cards of a scenario, with a bar while they are drawn; without those for faults, and a word on why, where these are
 * too many to be tried.
 */
async function cardsOf(io: Io, scenario: Scenario, facts: Pick<CardsInput, "digest" | "dated">): Promise<Map<string, string>> {
  const { buildCards } = await import("../cards/cards.js");
  const faults = withBar(io, scenario, () => faultsOf(scenario));
  if (faults instanceof InputError) tell(io.stderr, `no fault-finding cards: ${faults.message}`);
  // anew, so that the time to go is told by the boards that are drawn
  return withBar(io, scenario, (progress) => buildCards({ ...facts, scenario, faults: faults instanceof InputError ? null : faults, progress }));
}

/** Does work under a bar that counts boards. */
function withBar<T>(io: Io, scenario: Scenario, work: (progress: (boards: number) => void) => T): T {
  const bar = progressBar(io, "boards", scenario.boards.length);
  try {
    return work(bar.update);
  } finally {
    bar.stop();
  }
}

/** What faults look like, or why not, where the display is too long or too fast to try them all. */
function faultsOf(scenario: Scenario): FaultTable | InputError {
  try {
    return faultTable(scenario);
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}

/** Reads the date that `--dated` gives. */
export function dateFrom(text: string): string {
  const date = /^\d{4}-\d{2}-\d{2}$/.test(text) ? new Date(`${text}T00:00:00Z`) : null;
  if (date !== null && !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text)) return text;
  throw new UsageError(`--dated: found "${visible(text.slice(0, 60))}"; expected a date as year-month-day, such as 2031-05-17`);
}
