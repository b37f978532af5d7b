import { Piscina } from "piscina";
import { expectedPulses, RunTooLongError } from "../engine/limits.js";
import type { Scenario } from "../scenario/model.js";
import { chunksOf, rowsOf, type Chunk } from "./chunk.js";
import { rows } from "./evaluate.js";

export interface GatherOptions {
  readonly builds: number;
  /** Threads; 1 works in the calling thread. */
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
 * that were not done when the signal came. Throws {@link RunTooLongError} for a scenario or a build too long to simulate.
 */
export async function gather(scenario: Scenario, options: GatherOptions): Promise<(Float64Array | undefined)[]> {
  const chunks = chunksOf(options.builds, options.workers, expectedPulses(scenario));
  const workers = Math.min(options.workers, chunks.length);
  const found = new Array<Float64Array | undefined>(options.builds);
  let done = 0;
  const keep = ({ first, count }: Chunk, joined: Float64Array): void => {
    const width = joined.length / count;
    for (let i = 0; i < count; i++) found[first - 1 + i] = joined.subarray(i * width, (i + 1) * width);
    done += count;
    options.progress?.(done, options.builds);
  };
  const job = { scenario, curves: options.curves ?? false };
  if (workers <= 1) await alone(job, chunks, options.signal, keep);
  else await together(job, chunks, workers, options.signal, keep);
  return found;
}

interface Job {
  readonly scenario: Scenario;
  readonly curves: boolean;
}

type Keep = (chunk: Chunk, joined: Float64Array) => void;

async function alone({ scenario, curves }: Job, chunks: readonly Chunk[], signal: AbortSignal | undefined, keep: Keep): Promise<void> {
  const evaluate = rows(scenario, curves);
  for (const chunk of chunks) {
    if (signal?.aborted) return;
    keep(chunk, rowsOf(evaluate, chunk));
    // Signals are noticed only between turns of the event loop
    await new Promise((resolve) => setImmediate(resolve));
  }
}

/** Tasks under way for each thread: one at work, one waiting. */
const AHEAD = 2;

/**
 * Tasks that are under way when the signal comes, or when one of them fails, are waited for: a pool that is taken down
 * below a thread at work cannot tell what becomes of its answer.
 */
async function together(
  job: Job,
  chunks: readonly Chunk[],
  workers: number,
  signal: AbortSignal | undefined,
  keep: Keep,
): Promise<void> {
  const pool = new Piscina<Chunk, Float64Array | string>({
    filename: workerFile(),
    minThreads: workers,
    maxThreads: workers,
    workerData: job,
  });
  let next = 0;
  let failed = false;
  const lane = async (): Promise<void> => {
    while (!failed && !signal?.aborted) {
      const chunk = chunks[next++];
      if (chunk === undefined) return;
      const joined = await pool.run(chunk).catch((error: unknown) => {
        failed = true;
        throw error;
      });
      if (typeof joined === "string") {
        failed = true;
        throw new RunTooLongError(joined);
      }
      keep(chunk, joined);
    }
  };
  const lanes = await Promise.allSettled(Array.from({ length: AHEAD * workers }, lane));
  await pool.destroy();
  const failure = lanes.find((outcome) => outcome.status === "rejected");
  if (failure !== undefined) throw failure.reason as Error;
}

/** Threads run compiled code; where this module runs uncompiled, as in tests, what was compiled from it last. */
function workerFile(): string {
  const uncompiled = import.meta.url.endsWith(".ts");
  return new URL(uncompiled ? "../../dist/sim/spread/worker.js" : "./worker.js", import.meta.url).href;
}
