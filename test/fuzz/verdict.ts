/** What must be true of whatever the command does with whatever it is given. */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { EventEmitter } from "node:events";
import { Readable, Writable } from "node:stream";
import type * as z from "zod/mini";
import { SHAPES } from "../../reports/json/shapes.js";
import { main } from "../../reports/main.js";
import type { Case } from "./cases.js";

export interface Ran {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
  readonly seconds: number;
}

/** Runs a command with these files beside it, in a directory of its own unless told where. */
export async function run({ args, files }: Pick<Case, "args" | "files">, where?: string): Promise<Ran> {
  const directory = where ?? (await mkdtemp(join(tmpdir(), "lampdrift-fuzz-")));
  const home = process.cwd();
  const [stdout, stderr] = [new Sink(), new Sink()];
  const keys = new EventEmitter();
  const start = performance.now();
  try {
    for (const [name, text] of Object.entries(files)) await writeFile(join(directory, name), text);
    process.chdir(directory);
    const status = await main(args, { stdin: Readable.from([]), stdout, stderr, once: keys.once.bind(keys), off: keys.off.bind(keys) });
    return { status, stdout: stdout.text(), stderr: stderr.text(), seconds: (performance.now() - start) / 1000 };
  } finally {
    process.chdir(home);
    if (where === undefined) await rm(directory, { recursive: true, force: true });
  }
}

class Sink extends Writable {
  readonly #written: string[] = [];

  override _write(chunk: Buffer, _: BufferEncoding, done: () => void): void {
    this.#written.push(chunk.toString());
    done();
  }

  text(): string {
    return this.#written.join("");
  }
}

interface RunFigures {
  readonly scenes: { distinct: number; combinations: number | null; effective: number; even: number; sameAtRandom: number };
  readonly lit: { min: number; max: number; mean: number; shares: number[] };
  readonly houses: { litShare: number }[];
  readonly repeat: { curve: { share: number | null }[] };
}

/** What is wrong with how a case ended; empty when nothing is. */
export function faultsOf({ args }: Pick<Case, "args">, { status, stdout, stderr, seconds }: Ran): string[] {
  const faults: string[] = [];
  const must = (truth: boolean, what: string): void => {
    if (!truth) faults.push(what);
  };
  must([0, 1, 2].includes(status), `status ${status}`);
  must(!/fault of its own|\n {4}at /.test(stderr), "a stack trace, or a fault of its own");
  must(status !== 2 || stderr.trim() !== "", "refused without a word");
  must(!/\b(NaN|undefined|Infinity)\b/.test(stdout.replace(/"[^"]*"/g, "")), "NaN, undefined or Infinity in the result");
  must(!/[\u0000-\u0008\u000e-\u001f\u007f-\u009f]/.test(stderr), "control characters in a message");
  // 10.000010000000002 is what rounding of doubles leaves, and no figure that somebody reads
  const read = (args.includes("--json") || args[0] === "export" ? stderr : stdout + stderr).replace(/"[^"]*"/g, "");
  must(!/(?<![\w.\]])\d+\.\d*(0{7}|9{7})\d{1,2}(?!\d)/.test(read), "a figure with the rounding of doubles behind it");
  must(seconds < 120, `took ${seconds.toFixed(0)} s`);
  if (status === 2) must(!args.includes("--json") || stdout === "", "refused, and yet a result");
  const asJson = args.includes("--json") || (args[0] === "export" && args[args.indexOf("--as") + 1] === "json" && !args.includes("-o"));
  if (status < 2 && asJson && !args.includes("--help")) {
    try {
      const found = JSON.parse(stdout) as unknown;
      faults.push(...schemaFaults(args[0]!, found));
      if (args[0] === "run" || args[0] === "check") faults.push(...figureFaults(found as RunFigures));
    } catch {
      faults.push("no JSON");
    }
  }
  return faults;
}

/** What does not fit the schema of what the command prints. */
function schemaFaults(command: string, found: unknown): string[] {
  const { error } = (SHAPES as Readonly<Record<string, z.ZodMiniType>>)[command]!.safeParse(found);
  return (error?.issues ?? []).slice(0, 3).map(({ path, message }) => `${path.join(".")}: ${message}, by its schema`);
}

/** Laws that hold for the figures of any display. */
function figureFaults({ scenes, lit, houses, repeat }: RunFigures): string[] {
  const near = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a), Math.abs(b));
  const laws: [boolean, string][] = [
    [near(lit.shares.reduce((sum, share) => sum + share, 0), 1), "shares of houses lit at once do not add to one"],
    [near(lit.shares.reduce((sum, share, n) => sum + n * share, 0), lit.mean), "mean of houses lit at once"],
    [near(houses.reduce((sum, { litShare }) => sum + litShare, 0), lit.mean), "lit shares of the houses against their mean"],
    [scenes.combinations === null || scenes.distinct <= scenes.combinations + 1, "more scenes than combinations"],
    [scenes.effective <= scenes.even * (1 + 1e-9) && scenes.even <= scenes.distinct * (1 + 1e-9), "effective ≤ even ≤ distinct"],
    [near(1 / scenes.effective, scenes.sameAtRandom), "effective against same at random"],
    [repeat.curve.every(({ share }) => share === null || (share >= 0 && share <= 1 + 1e-12)), "a return share beyond 0 … 1"],
    [lit.min >= 0 && lit.max <= houses.length && lit.min <= lit.mean + 1e-9 && lit.mean <= lit.max + 1e-9, "min ≤ mean ≤ max of houses lit"],
  ];
  return laws.flatMap(([holds, what]) => (holds ? [] : [what]));
}
