import { Exit } from "./errors.js";
import { reason } from "./files.js";

/** Where text goes; a terminal says that it is one, and how wide. */
export type Output = NodeJS.WritableStream & { readonly isTTY?: boolean; readonly columns?: number };

/** What the program meets outside itself: what it prints to, what it reads from, and Ctrl-C. */
export interface Io {
  readonly stdin: NodeJS.ReadableStream;
  readonly stdout: Output;
  readonly stderr: Output;
  once(event: "SIGINT", listener: () => void): unknown;
  off(event: "SIGINT", listener: () => void): unknown;
}

/** The process itself, with what happens when nobody takes its output. */
export function processIo(): Io {
  // a reader that has seen enough closes the pipe: no fault of ours or theirs
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit(Exit.Done);
    process.stderr.write(`cannot write the result: ${reason(error)}\n`);
    process.exit(Exit.BadInput);
  });
  // with nobody to read it a message is lost, but the exit status still tells
  process.stderr.on("error", () => undefined);
  return process;
}
