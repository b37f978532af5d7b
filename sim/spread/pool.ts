import { Piscina } from "piscina";
import { expectedPulses, RunTooLongError } from "../engine/limits.js";
import { InputError } from "../errors.js";
import type { Scenario } from "../model/scenario.js";
import { chunksOf, rowsOf, type Chunk } from "./chunk.js";
import { rows } from "./evaluate.js";

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

/** A thread that ended in the middle of its work, which the machine or the system makes happen; the message says what would do. */
class ThreadLostError extends InputError {
  override readonly name = "ThreadLostError";
}

/**
 * The rows of builds 1, 2, 3 …, in this order whatever the number of workers and whoever is first; undefined for those
 * that were not done when the signal came. Throws {@link RunTooLongError} for a scenario or a build too long to simulate,
 * an {@link InputError} when a thread is gone before its work is done.
 *
 * The calling thread is one of the workers: it works while the others still start. What is under way when the signal
 * comes, or when a build fails, is waited for: a pool that is taken down below a thread at work cannot tell what becomes
 * of its answer.
 */
export async function gather(scenario: Scenario, options: GatherOptions): Promise<(Float64Array | undefined)[]> {
  const { signal } = options;
  const chunks = chunksOf(options.builds, options.workers, expectedPulses(scenario));
  const job: Job = { scenario, curves: options.curves ?? false };
  const threads = Math.min(options.workers, chunks.length) - 1;
  const pool = threads === 0 ? null : startPool(job, threads);
  const found = new Array<Float64Array | undefined>(options.builds);
  let next = 0;
  let done = 0;
  let failed = false;
  const lane = async (work: (chunk: Chunk) => Promise<Float64Array>): Promise<void> => {
    while (!failed && !signal?.aborted) {
      const chunk = chunks[next++];
      if (chunk === undefined) return;
      const joined = await work(chunk).catch((error: unknown) => {
        failed = true;
        throw error;
      });
      const { first, count } = chunk;
      const width = joined.length / count;
      for (let i = 0; i < count; i++) found[first - 1 + i] = joined.subarray(i * width, (i + 1) * width);
      done += count;
      options.progress?.(done, options.builds);
    }
  };
  const lanes = pool === null ? [] : Array.from({ length: AHEAD * threads }, () => lane((chunk) => workThere(pool, chunk)));
  lanes.push(lane(workHere(job)));
  const ends = await Promise.allSettled(lanes);
  await pool?.destroy();
  const failure = ends.find((end) => end.status === "rejected");
  if (failure !== undefined) throw failure.reason as Error;
  return found;
}

/** What the threads need to know beforehand; plain data, since it is copied to them. */
export interface Job {
  readonly scenario: Scenario;
  readonly curves: boolean;
}

type Pool = Piscina<Chunk, Float64Array | string>;

/** Tasks under way for each thread: one at work, and one to go on with while the calling thread is busy itself. */
const AHEAD = 2;

function startPool(job: Job, threads: number): Pool {
  const pool: Pool = new Piscina({
    filename: workerFile(),
    minThreads: threads,
    maxThreads: threads,
    concurrentTasksPerWorker: AHEAD,
    workerData: job,
  });
  // of a thread that has nothing to do; one with work says it by the promise of that work
  pool.on("error", () => undefined);
  return pool;
}

async function workThere(pool: Pool, chunk: Chunk): Promise<Float64Array> {
  const joined = await pool.run(chunk).catch((error: unknown) => {
    throw lost(error) ?? error;
  });
  if (typeof joined === "string") throw new RunTooLongError(joined);
  return joined;
}

/** What to tell of a thread that is gone; undefined for what its work has thrown. */
function lost(error: unknown): ThreadLostError | undefined {
  const { code, message } = error as NodeJS.ErrnoException;
  const outOfMemory = code === "ERR_WORKER_OUT_OF_MEMORY";
  if (!outOfMemory && code !== "ERR_WORKER_INIT_FAILED" && !/^(worker exited with code|Terminating worker)/.test(message)) return undefined;
  const why = outOfMemory ? "its memory was full" : "the system ended it";
  return new ThreadLostError(
    `a thread that simulated builds is gone before its work was done (${why}); nothing was written: try again with fewer threads ` +
      "(spread has --workers 1 for that) or with fewer opening days (opening.run)",
  );
}

function workHere({ scenario, curves }: Job): (chunk: Chunk) => Promise<Float64Array> {
  const evaluate = rows(scenario, curves);
  return async (chunk) => {
    // Signals, and answers of threads, are noticed only between turns of the event loop
    await new Promise((resolve) => setImmediate(resolve));
    return rowsOf(evaluate, chunk);
  };
}

/** Threads run compiled code; where this module runs uncompiled, as in tests, what was compiled from it last. */
function workerFile(): string {
  const uncompiled = import.meta.url.endsWith(".ts");
  return new URL(uncompiled ? "../../dist/sim/spread/worker.js" : "./worker.js", import.meta.url).href;
}
