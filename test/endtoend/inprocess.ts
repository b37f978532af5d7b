/** The command, run inside the test, without the time that a process takes to start. */
import { EventEmitter } from "node:events";
import { Readable, Writable } from "node:stream";
import { main } from "../../reports/main.js";
import type { Io } from "../../reports/output/io.js";
import { project, unfolded, type Outcome } from "./command.js";

interface Printed extends Outcome {
  /** Standard error as it was printed, its messages wrapped; in `stderr` each of them stands on one line. */
  readonly printed: string;
}

interface Around {
  /** Where relative paths start (default: the project). */
  readonly cwd?: string;
  /** What stands on standard input, which then ends. */
  readonly input?: string;
  /** Columns of the terminal that both outputs go to (default: they go to no terminal). */
  readonly columns?: number;
  /** The environment of a terminal (default: none). */
  readonly env?: Readonly<Record<string, string>>;
  /** Where Ctrl-C comes from: emit "SIGINT" on it. */
  readonly keys?: EventEmitter;
}

let before: Promise<unknown> = Promise.resolve();

/**
 * Runs `lampdrift` with these arguments, as the program in `command.ts` does in a process of its own. One at a time, since
 * the working directory belongs to the whole process; tests that wait for each other lose nothing, as there is one thread.
 */
export function lampdrift(args: readonly string[], around: Around = {}): Promise<Printed> {
  const run = before.then(() => runHere(args, around));
  before = run.catch(() => undefined);
  return run;
}

async function runHere(args: readonly string[], { cwd = project, input = "", columns, env, keys = new EventEmitter() }: Around): Promise<Printed> {
  const [stdout, stderr] = [new Sink(columns), new Sink(columns)];
  const io: Io = {
    stdin: Readable.from([Buffer.from(input)]),
    stdout,
    stderr,
    env,
    once: keys.once.bind(keys),
    off: keys.off.bind(keys),
  };
  const home = process.cwd();
  process.chdir(cwd);
  try {
    const status = await main(args, io);
    if (keys.listenerCount("SIGINT") > 0) throw new Error(`lampdrift ${args.join(" ")} still listens for Ctrl-C after its end`);
    const outcome = { status, stdout: stdout.text, stderr: unfolded(stderr.text) };
    // not among what is compared where an outcome is
    return Object.defineProperty(outcome, "printed", { value: stderr.text }) as Printed;
  } finally {
    process.chdir(home);
  }
}

/** Printed text as it reads, wherever its lines end. */
export function unwrapped(text: string): string {
  return text.replace(/\s+/g, " ").trim();
}

/** Keeps what is written to it. */
class Sink extends Writable {
  readonly isTTY: boolean;
  readonly columns: number;
  readonly #written: Buffer[] = [];

  constructor(columns: number | undefined) {
    super({ decodeStrings: true });
    this.isTTY = columns !== undefined;
    this.columns = columns ?? 0;
  }

  get text(): string {
    return Buffer.concat(this.#written).toString();
  }

  override _write(bytes: Buffer, _encoding: string, done: () => void): void {
    this.#written.push(bytes);
    done();
  }
}
