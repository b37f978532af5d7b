/** Runs the commands that write, ends them in many ways, and holds what they leave against what was there and what should be. */
import { spawn } from "node:child_process";
import { watch } from "node:fs";
import { cp, mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Draws } from "./draws.js";
import { run } from "./verdict.js";
import { earlier, GIVEN, WRITERS, type Writer } from "./writers.js";

const CLI = fileURLToPath(new URL(import.meta.url.endsWith(".ts") ? "../../dist/bin/cli.js" : "../../bin/cli.js", import.meta.url));
/** What a process takes to start, ms. */
const STARTING = 200;
const ENDS = ["SIGKILL", "SIGINT", "SIGTERM", "EPIPE"] as const;
/** What the next run takes away or finishes. */
const LEFT = /^\.(draft-[0-9a-f]{12}|ready|making)(\/|$)|\.part$/;

interface Ended {
  readonly status: number | null;
  readonly signal: string | null;
  readonly stderr: string;
}

/** How a program is to be ended: a wait in milliseconds, from its start or from when it begins to write. */
interface End {
  readonly how: (typeof ENDS)[number];
  readonly wait: number;
  readonly from: "start" | "writing";
}

/** Runs the command in a process, and ends it. */
function runEnded(args: readonly string[], cwd: string, end: End): Promise<Ended> {
  const child = spawn(process.execPath, [CLI, ...args], { cwd, stdio: ["ignore", "pipe", "pipe"] });
  let stderr = "";
  child.stdout.resume();
  child.stderr.on("data", (data: Buffer) => (stderr += data.toString()));
  const strike = (how: End["how"]): void => {
    if (how === "EPIPE") child.stdout.destroy();
    else child.kill(how);
  };
  const soon = ({ how, wait }: End): NodeJS.Timeout => setTimeout(() => strike(how), wait);
  const timers: NodeJS.Timeout[] = end.from === "start" ? [soon(end)] : [];
  const watcher = end.from !== "writing" ? null : watch(join(cwd, "out"), () => {
    watcher?.close();
    timers.push(soon(end));
  });
  return new Promise((resolve) => {
    child.on("close", (status, signal) => {
      watcher?.close();
      timers.forEach((timer) => clearTimeout(timer));
      resolve({ status, signal, stderr });
    });
  });
}

type Contents = Readonly<Record<string, string>>;

/** Everything in a folder: the bytes of each file, by name. */
async function contents(folder: string): Promise<Record<string, string>> {
  const found: Record<string, string> = {};
  for (const name of (await readdir(folder, { recursive: true })).sort()) {
    if ((await stat(join(folder, name))).isFile()) found[name] = await readFile(join(folder, name), "latin1");
  }
  return found;
}

const without = (found: Contents, pattern: RegExp): Contents => Object.fromEntries(Object.entries(found).filter(([name]) => !pattern.test(name)));
const same = (a: Contents, b: Contents): boolean => JSON.stringify(a) === JSON.stringify(b);

/** A command with what stands in `out` before it and after it, and how long it takes in a process, about. */
interface Known {
  readonly writer: Writer;
  readonly home: string;
  readonly before: Contents;
  readonly after: Contents;
  readonly milliseconds: number;
}

async function know(writer: Writer, home: string): Promise<Known> {
  await mkdir(join(home, "out"), { recursive: true });
  for (const [name, text] of Object.entries(GIVEN)) await writeFile(join(home, name), text);
  if (writer.before === "made") await run({ args: earlier(writer), files: {} }, home);
  else for (const [name, text] of Object.entries(writer.before)) await writeFile(join(home, "out", name), text);
  const trial = `${home}-trial`;
  await cp(home, trial, { recursive: true });
  const ran = await run({ args: writer.args, files: {} }, trial);
  if (ran.status !== writer.status) throw new Error(`${writer.args.join(" ")} ended with ${ran.status}: ${ran.stderr}`);
  return { writer, home, before: await contents(join(home, "out")), after: await contents(join(trial, "out")), milliseconds: STARTING + 1000 * ran.seconds };
}

/** What so many ends have shown. */
export interface Shown {
  readonly faults: readonly string[];
  /** How many ended before, amid and after the change of what is there. */
  readonly old: number;
  readonly amid: number;
  readonly done: number;
}

/**
 * Ends commands that write, at moments drawn by lot: half of them when they begin to write. `names`: of which commands, one that
 * stands there twice being ended twice as often.
 */
export async function endCommands(
  ends: number,
  seed: string,
  names: readonly string[] = Object.keys(WRITERS),
  tell: (line: string) => void = () => undefined,
): Promise<Shown> {
  const draws = new Draws(`${seed} ends`);
  const root = await mkdtemp(join(tmpdir(), "lampdrift-ends-"));
  const faults: string[] = [];
  const shown = { old: 0, amid: 0, done: 0 };
  try {
    const known = new Map<string, Known>();
    for (let n = 0; n < ends; n++) {
      const name = draws.of(names);
      const one = known.get(name) ?? (await know(WRITERS[name]!, join(root, name.replace(/ /g, ""))));
      known.set(name, one);
      const atWriting = draws.chance(0.5);
      const end: End = { how: draws.of(ENDS), from: atWriting ? "writing" : "start", wait: draws.below(atWriting ? 40 : one.milliseconds) };
      const place = join(root, "now");
      await cp(one.home, place, { recursive: true });
      const found = await afterEnd(one, place, end);
      shown[found.state]++;
      const what = `end ${n}, ${one.writer.args.join(" ")}, ${end.how} ${end.wait} ms after ${end.from}`;
      for (const fault of found.faults) faults.push(`${what}: ${fault}`);
      found.faults.forEach((fault) => tell(`${what}: ${fault}`));
      await rm(place, { recursive: true });
    }
  } finally {
    await rm(root, { recursive: true, force: true });
  }
  return { faults, ...shown };
}

async function afterEnd({ writer, before, after }: Known, place: string, end: End): Promise<{ faults: string[]; state: "old" | "amid" | "done" }> {
  const faults: string[] = [];
  const ran = await runEnded(writer.args, place, end);
  const found = await contents(join(place, "out"));
  const plain = without(found, LEFT);
  const state = same(plain, before) ? "old" : same(plain, after) ? "done" : "amid";
  if (state === "amid" && !Object.keys(found).some((name) => name.startsWith(".ready/"))) faults.push(`neither old nor new: ${Object.keys(plain).join(", ")}`);
  const ended = ran.signal === end.how || ran.status === writer.status || (end.how === "SIGINT" && ran.status === 130);
  if (!ended) faults.push(`status ${ran.status}, signal ${ran.signal}: ${ran.stderr}`);
  if (/\n {4}at /.test(ran.stderr)) faults.push(`a stack trace: ${ran.stderr}`);
  if (ran.status === writer.status && state !== "done") faults.push("ended well, and nothing new is there");
  // nothing is left, so that the next run does what the first one did beforehand
  if (same(found, before) || same(found, after)) return { faults, state };
  // the next run leaves all in order; a file that is never written over may be there already
  const next = await run({ args: writer.args, files: {} }, place);
  const there = state === "done" && /is there already/.test(next.stderr);
  if (!there && next.status !== writer.status) faults.push(`the next run ends with ${next.status}: ${next.stderr}`);
  if (!same(await contents(join(place, "out")), after)) faults.push("the next run leaves something else");
  return { faults, state };
}
