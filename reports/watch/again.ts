import { Writable } from "node:stream";
import { Option } from "commander";
import { userMessage } from "../output/errors.js";
import { ioWith, type Io, type Output } from "../output/io.js";
import { tell } from "../terminal/tell.js";
import { WatchedFiles } from "./files.js";

/**
 * Work that is done again and again. It prints to the Io that it is handed, calls `reading` just before it reads a file, and
 * should end early when the signal is given.
 */
export type Work = (io: Io, reading: (path: string) => void, signal: AbortSignal) => Promise<unknown>;

/** The option that asks for it; what is printed for programs is printed once. */
export function watchOption(): Option {
  return new Option("--watch", "do it again whenever the file, or one that it names, changes; Ctrl-C ends").conflicts("json");
}

/** Clears a terminal; what was on it before stays in its memory. */
const CLEAR = "\u001b[2J\u001b[H";

/**
 * Does work, and again whenever a file that it read has changed, until Ctrl-C, or until nobody reads what it prints. On a
 * terminal the last good result stays, and what is wrong stands under it; elsewhere every good result follows the one
 * before. Rejects for a fault of our own alone.
 */
export async function again(io: Io, work: Work): Promise<void> {
  const stop = new AbortController();
  const end = (): void => stop.abort();
  const ended = new Promise<void>((resolve) => stop.signal.addEventListener("abort", () => resolve()));
  io.once("SIGINT", end);
  io.stdout.once("close", end);
  try {
    let good: Round | null = null;
    while (!stop.signal.aborted) {
      const files = new WatchedFiles();
      const round = await Promise.race([attempt(io, work, files, stop.signal), ended]);
      if (round === undefined) return;
      if ("fault" in round) throw round.fault;
      if (round.problems === null) good = round;
      show(io, good, round);
      await files.changed(stop.signal);
    }
  } finally {
    io.off("SIGINT", end);
    io.stdout.off("close", end);
  }
}

/** How it went once: what was printed, or what is wrong. */
interface Round {
  readonly result: string;
  readonly messages: string;
  readonly problems: string | null;
}

async function attempt(io: Io, work: Work, files: WatchedFiles, signal: AbortSignal): Promise<Round | { readonly fault: Error }> {
  const stdout = new Kept(io.stdout);
  const stderr = new Kept({});
  const inner = ioWith(io, { stdout, stderr });
  try {
    await work(inner, (path) => files.note(path), signal);
    return { result: stdout.text(), messages: stderr.text(), problems: null };
  } catch (error) {
    const problems = userMessage(error);
    if (problems === undefined) return { fault: error instanceof Error ? error : new Error(String(error)) };
    return { result: "", messages: stderr.text(), problems };
  }
}

function show({ stdout, stderr }: Io, good: Round | null, { problems, messages }: Round): void {
  const terminal = stdout.isTTY === true;
  if (terminal) stdout.write(CLEAR);
  if (good !== null && (terminal || problems === null)) stdout.write(good.result);
  stderr.write(messages);
  if (problems !== null) {
    tell(stderr, problems);
    if (good !== null) tell(stderr, "what is above is from before; it is made again when this is mended");
  }
  stderr.write("watching for changes; Ctrl-C ends\n");
}

/** Keeps what is written to it, in place of an output. */
class Kept extends Writable {
  readonly isTTY: boolean;
  readonly columns: number;
  readonly #written: string[] = [];

  constructor({ isTTY = false, columns = 80 }: Pick<Output, "isTTY" | "columns">) {
    super({ decodeStrings: false });
    this.isTTY = isTTY;
    this.columns = columns;
  }

  text(): string {
    return this.#written.join("");
  }

  override _write(chunk: string | Buffer, _: BufferEncoding, done: () => void): void {
    this.#written.push(chunk.toString());
    done();
  }
}
