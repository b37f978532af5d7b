/** The built command, run as a person runs it. */
import { execFile } from "node:child_process";
import { mkdtemp, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll } from "vitest";
import { project } from "../built.js";

export { project };

export const cli = join(project, "dist/bin/cli.js");

export const demos = ["tidewater-lane", "twin-boards", "workshop"] as const;
export const demo = (name: (typeof demos)[number] | "starter"): string => join(project, "scenarios", `${name}.yaml`);

/** A scenario's text with two days in place of many: for what is the same on every day. */
export function briefly(text: string): string {
  const brief = text.replace(/\brun: \d+/, "run: 2");
  if (!brief.includes("run: 2")) throw new Error("this text says nothing of the days to simulate");
  return brief;
}

/** A scenario's text with the first two hours of one day, for commands that simulate it many times. */
export function inTwoHours(text: string): string {
  const from = Number(/\bfrom: "(\d\d):00"/.exec(text)![1]);
  return briefly(text).replace("run: 2", "run: 1").replace(/\buntil: "\d\d:00"/, `until: "${from + 2}:00"`);
}

export interface Outcome {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

interface Surroundings {
  readonly cwd?: string;
  readonly env?: Readonly<Record<string, string>>;
}

/** Messages with each on one line, wherever it was wrapped. */
export function unfolded(messages: string): string {
  return messages.startsWith("Usage:") ? messages : messages.replace(/\n {2}(?=\S)/g, " ");
}

/** Runs any program; a status of −1 means that it did not end by itself. */
export function program(file: string, args: readonly string[], { cwd, env = {} }: Surroundings = {}): Promise<Outcome> {
  return new Promise((resolve) => {
    // how the tests were started is no business of what they start
    const inherited = Object.fromEntries(Object.entries(process.env).filter(([name]) => !/^(npm_|NODE_|VITEST)/.test(name)));
    const options = { cwd, env: { ...inherited, ...env }, timeout: 60_000, maxBuffer: 2 ** 28 };
    execFile(file, args, options, (error, stdout, stderr) => {
      const status = error === null ? 0 : typeof error.code === "number" ? error.code : -1;
      resolve({ status, stdout, stderr });
    });
  });
}

/** Runs `lampdrift` with these arguments in a process of its own: for what only a process can show; else see `inprocess.ts`. */
export async function lampdriftProcess(args: readonly string[], surroundings?: Surroundings): Promise<Outcome> {
  const outcome = await program(process.execPath, [cli, ...args], surroundings);
  return { ...outcome, stderr: unfolded(outcome.stderr) };
}

/** An empty directory that is gone after the tests of the file. */
export async function scratch(): Promise<string> {
  const directory = await mkdtemp(join(tmpdir(), "lampdrift-test-"));
  afterAll(() => rm(directory, { recursive: true, force: true }));
  return directory;
}

/** Everything below a directory, in order. */
export async function listing(directory: string): Promise<string[]> {
  return (await readdir(directory, { recursive: true })).sort();
}
