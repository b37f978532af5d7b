import { Exit } from "./errors.js";
import { reason } from "./files.js";

/** Where text goes; a terminal says that it is one, and how wide. */
export type Output = NodeJS.WritableStream & { readonly isTTY?: boolean; readonly columns?: number; readonly destroyed?: boolean };

/** What the program meets outside itself: what it prints to, what it reads from, and Ctrl-C. */
export interface Io {
  readonly stdin: NodeJS.ReadableStream;
  readonly stdout: Output;
  readonly stderr: Output;
  /** The environment, for what a terminal can show (default: empty). */
  readonly env?: Readonly<Record<string, string | undefined>> | undefined;
  /** Where files may lie that a scenario is based on; its own folder and what is below unless asked. */
  readonly bases?: "below" | "anywhere" | undefined;
  once(event: "SIGINT", listener: () => void): unknown;
  off(event: "SIGINT", listener: () => void): unknown;
}

/** The same io with some of it changed. */
export function ioWith(io: Io, changes: Partial<Pick<Io, "stdout" | "stderr" | "bases">>): Io {
  const { stdout, stderr, env, bases } = io;
  // standard input is opened when somebody asks for it
  const input = { get stdin() { return io.stdin; } };
  return Object.assign(input, { stdout, stderr, env, bases, once: io.once.bind(io), off: io.off.bind(io) }, changes);
}

/** The process itself, with what happens when nobody takes its output. */
export function processIo(): Io {
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    // a reader that has seen enough closes the pipe: no fault of ours or theirs, and the exit status still tells
    if (error.code === "EPIPE" || error.code === "ERR_STREAM_DESTROYED") return;
    process.stderr.write(`cannot write the result: ${reason(error)}\n`);
    process.exit(Exit.BadInput);
  });
  // with nobody to read it a message is lost, but the exit status still tells
  process.stderr.on("error", () => undefined);
  return process;
}

/** Writes text at the pace of its reader; false when nobody reads it any more. */
export async function pourInto(output: Output, text: string): Promise<boolean> {
  if (output.destroyed) return false;
  if (output.write(text)) return true;
  return new Promise((resolve) => {
    const settle = (open: boolean) => (): void => {
      output.off("drain", drained).off("close", gone).off("error", gone);
      resolve(open);
    };
    const drained = settle(true);
    const gone = settle(false);
    output.on("drain", drained).on("close", gone).on("error", gone);
  });
}
