import { Presets, SingleBar } from "cli-progress";
import type { Io } from "./io.js";

/** Shows how far work has come, with the time that remains; only where a person watches a terminal. */
export function progressBar({ stderr }: Io, noun: string, total: number): { update: (done: number) => void; stop: () => void } {
  if (!stderr.isTTY) return { update: () => undefined, stop: () => undefined };
  const format = `{bar} {value} of {total} ${noun}, {eta_formatted} to go`;
  // its own care for Ctrl-C would keep a busy command from being ended, so there is none, and no cursor to bring back
  const bar = new SingleBar({ format, stream: stderr, clearOnComplete: true, gracefulExit: false }, Presets.shades_classic);
  bar.start(total, 0);
  return { update: (done) => bar.update(done), stop: () => bar.stop() };
}
