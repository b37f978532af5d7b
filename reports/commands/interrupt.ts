import type { Io } from "../output/io.js";

/** Runs work that a first Ctrl-C ends early with what is done, and a second one at once. */
export async function withInterrupt<T>(io: Io, work: (signal: AbortSignal) => Promise<T>): Promise<T> {
  const controller = new AbortController();
  const onInterrupt = (): void => {
    io.stderr.write("\nending with what is finished; press Ctrl-C again to stop at once\n");
    controller.abort();
  };
  // once: with nobody left to listen, the second one ends the process
  io.once("SIGINT", onInterrupt);
  try {
    return await work(controller.signal);
  } finally {
    io.off("SIGINT", onInterrupt);
  }
}
