/** What must agree with what: run, report and page with each other, a counterexample with its replay, an edited page with itself. */
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { jsonText, runJson } from "../../reports/json/print.js";
import { problemsOf, shownOf, writtenOf, type Computed } from "../../reports/live/computed.js";
import * as page from "../../reports/live/state.js";
import { editsOf, type Case, type PageEdit } from "./cases.js";
import { faultsOf, run, type Ran } from "./verdict.js";

/** What is wrong besides how a case ended. */
export async function disagreements(one: Case, ran: Ran): Promise<string[]> {
  if (one.then === "edit") return editFaults(one);
  if (ran.status > 1 || one.then === undefined) return [];
  if (one.then === "replay") return replayFaults(one, ran);
  return [...pageFaults(one, ran), ...(one.then === "agree with report" ? await reportFaults(one, ran) : [])];
}

const textOf = ({ files }: Case): string => files["a.yaml"]!;

/** Everything that run prints, as the page has it. */
function asPrinted({ scenario, figures, promises }: Computed): unknown {
  return JSON.parse(jsonText(runJson(scenario, figures, promises)));
}

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

function pageFaults(one: Case, { stdout }: Ran): string[] {
  const shown = shownOf(page.initialState([{ file: "a.yaml", text: textOf(one) }], []));
  if (shown === null) return ["the page refuses what run takes"];
  return same(asPrinted(shown), JSON.parse(stdout)) ? [] : ["the page shows other figures than run"];
}

async function reportFaults(one: Case, { stdout }: Ran): Promise<string[]> {
  const directory = await mkdtemp(join(tmpdir(), "lampdrift-fuzz-"));
  try {
    await writeFile(join(directory, "a.yaml"), textOf(one));
    const args = ["report", "a.yaml", "--builds", "1", "-o", "out"];
    const reported = await run({ args, files: {} }, directory);
    const faults = faultsOf({ args }, reported);
    if (reported.status > 1) return [...faults, "report refuses what run takes"];
    const inReport = JSON.parse(await readFile(join(directory, "out/figures.json"), "utf8")) as Record<string, unknown>;
    const inRun = JSON.parse(stdout) as Record<string, unknown>;
    return [...faults, ...Object.keys(inRun).filter((key) => !same(inRun[key], inReport[key])).map((key) => `${key} in the report is not that of run`)];
  } finally {
    await rm(directory, { recursive: true, force: true });
  }
}

interface Hunted {
  readonly promises: readonly { readonly promise: string; readonly broken: boolean; readonly build?: object | null; readonly value?: number | null }[];
}

/** Each build that a hunt has found breaks its promise again, by the same value. */
async function replayFaults(one: Case, { stdout }: Ran): Promise<string[]> {
  const faults: string[] = [];
  for (const { promise, broken, build, value } of (JSON.parse(stdout) as Hunted).promises) {
    if (!broken || build === undefined || build === null) continue;
    const args = ["run", "a.yaml", "--build", "build.json", "--json"];
    const again = await run({ args, files: { ...one.files, "build.json": JSON.stringify(build) } });
    faults.push(...faultsOf({ args }, again));
    const judged = again.status > 1 ? [] : (JSON.parse(again.stdout) as { promises: { promise: string; kept: boolean; value: number | null }[] }).promises;
    const its = judged.filter((result) => result.promise === promise && !result.kept);
    // a build in which a timer stalls has no figures to replay
    if (its.length === 0 && !/stall/.test(again.stderr)) faults.push(`the replay of a counterexample keeps ${promise}: ${again.stderr}`);
    else if (its.length > 0 && !its.some((result) => result.value === value)) faults.push(`the replay of a counterexample breaks ${promise} by another value`);
  }
  return faults;
}

const REDUCERS: { readonly [Kind in PageEdit["kind"]]: (edit: Extract<PageEdit, { kind: Kind }>) => page.Reducer } = {
  edit: ({ text }) => page.edit(text),
  turn: ({ board, seconds }) => page.turn(board, seconds),
  turnBack: ({ board }) => page.turnBack(board),
  backToPlan: () => page.backToPlan,
  saved: () => page.saved("a.yaml"),
  look: ({ opening, time }) => page.look(opening, time),
};

/** Whatever is done in the page, it says what is wrong as the command does, or shows what the command would. */
async function editFaults(one: Case): Promise<string[]> {
  const faults: string[] = [];
  let state = page.initialState([{ file: "a.yaml", text: textOf(one) }], []);
  const edits = editsOf(textOf(one), textOf(one));
  for (const [n, edit] of [null, ...edits].entries()) {
    if (edit !== null) state = (REDUCERS[edit.kind] as (edit: PageEdit) => page.Reducer)(edit)(state);
    const what = `after edit ${n}${edit === null ? "" : ` (${JSON.stringify(edit).slice(0, 80)})`}`;
    try {
      const problems = problemsOf(state);
      if (/[\u0000-\u0008\u000e-\u001f\u007f-\u009f]/.test(problems.join("\n"))) faults.push(`${what}: ${problems.join("; ")}`);
      const shown = shownOf(state);
      if (shown === null) {
        if (problems.length === 0) faults.push(`${what}: nothing is shown, and nothing wrong`);
        continue;
      }
      const printed = jsonText(runJson(shown.scenario, shown.figures, shown.promises));
      const args = ["run", "--json"];
      faults.push(...faultsOf({ args }, { status: 0, stdout: printed, stderr: "", seconds: 0 }).map((fault) => `${what}: ${fault}`));
    } catch (error) {
      faults.push(`${what}: ${String((error as Error).stack)}`);
    }
  }
  // in the end the text alone, by page and command
  state = { ...state, settings: new Map() };
  const [last, written] = [await run({ args: ["run", "a.yaml", "--json"], files: { "a.yaml": state.text } }), writtenOf(state)];
  if ((last.status > 1) !== (written === null)) faults.push(`page and run differ in whether the text can be run: ${last.stderr}`);
  else if (written !== null && !same(asPrinted(written), JSON.parse(last.stdout))) faults.push("the edited page shows other figures than run");
  return faults;
}
