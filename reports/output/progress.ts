import { Presets, SingleBar } from "cli-progress";

/** Shows how far work has come, with the time that remains; only where a person watches a terminal. */
export function progressBar(noun: string, total: number): { update: (done: number) => void; stop: () => void } {
  if (!process.stderr.isTTY) return { update: () => undefined, stop: () => undefined };
  const format = `{bar} {value} of {total} ${noun}, {eta_formatted} to go`;
  const bar = new SingleBar({ format, stream: process.stderr, clearOnComplete: true, hideCursor: true }, Presets.shades_classic);
  bar.start(total, 0);
  return { update: (done) => bar.update(done), stop: () => bar.stop() };
}
