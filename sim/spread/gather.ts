import { shareOut, threadsFor } from "../crew/crew.js";
import { threads } from "../crew/threads.js";
import { expectedBytes, expectedPulses } from "../engine/limits.js";
import type { Scenario } from "../model/scenario.js";
import { chunksOf } from "./chunk.js";
import { job } from "./job.js";

/** How builds are drawn and simulated. */
export interface GatherOptions {
  /** Builds to draw, from 1. */
  readonly builds: number;
  /** Threads, the calling one included. */
  readonly workers: number;
  /** Keep the curve of returns of every build too. */
  readonly curves?: boolean | undefined;
  /** Ends the work early; what is done by then is kept. */
  readonly signal?: AbortSignal | undefined;
  /** Called now and then with the number of builds done. */
  readonly progress?: ((done: number, total: number) => void) | undefined;
}

/**
 * The rows of builds 1, 2, 3 …, in this order whatever the number of workers and whoever is first; undefined for those
 * that were not done when the signal came. Throws RunTooLongError for a scenario or a build too long to simulate.
 */
export async function gather(scenario: Scenario, options: GatherOptions): Promise<(Float64Array | undefined)[]> {
  const { builds, workers, signal, progress } = options;
  const pulses = expectedPulses(scenario);
  const chunks = chunksOf(builds, workers, pulses);
  const most = Math.min(chunks.length, threadsFor(builds * pulses));
  const crew = threads(workers)(job, { scenario, curves: options.curves ?? false }, { most, bytes: expectedBytes(scenario), signal });
  const found = new Array<Float64Array | undefined>(builds);
  let done = 0;
  try {
    await shareOut(crew, chunks, (joined, c) => {
      const { first, count } = chunks[c]!;
      const width = joined.length / count;
      for (let i = 0; i < count; i++) found[first - 1 + i] = joined.subarray(i * width, (i + 1) * width);
      done += count;
      progress?.(done, builds);
    });
  } finally {
    await crew.dismiss();
  }
  return found;
}
