import { availableParallelism, totalmem } from "node:os";
import { Piscina } from "piscina";
import { RunTooLongError } from "../engine/limits.js";
import { InputError } from "../errors.js";
import { turn, type Crew, type Hire, type Job, type Terms } from "./crew.js";

/** A thread that ended in the middle of its work, which the machine or the system makes happen; the message says what would do. */
class ThreadLostError extends InputError {
  override readonly name = "ThreadLostError";
}

/** What a thread is told when it starts. */
export interface Orders {
  readonly module: string;
  readonly data: unknown;
}

/** What a thread answers: an error loses its class on the way, so that of a run that is too long the message alone is sent. */
export type Sent = { readonly answer: unknown } | { readonly tooLong: string };

/** What a thread takes before it has anything to do, and some room to work in: twice what was measured, bytes. */
const ROOM = 50e6;

/** Tasks under way for each thread: one at work, and one to go on with while the calling thread is busy itself. */
const AHEAD = 2;

interface Waiting<Task> {
  readonly task: Task;
  readonly resolve: (answer: unknown) => void;
  readonly reject: (error: unknown) => void;
}

/**
 * Crews of so many threads, the calling one included: it works while the others still start. When the signal comes, or
 * a crew is dismissed, what is under way is waited for: a pool that is taken down below a thread at work cannot tell what
 * becomes of its answer. What is asked of them throws RunTooLongError for a build too long to simulate, and
 * an InputError when a thread is gone before its work is done.
 * `workers` is a number of threads, from 1; more than the machine has processors and memory for do not start. Throws nothing itself.
 *
 * @example
 * ```ts
 * import { hunt, readScenario, threads } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const [first] = await hunt(scenario, { tries: 20, hire: threads(2) });
 * console.log(first!.tries); // 1
 * ```
 */
export function threads(workers: number): Hire {
  return <Data, Task, Answer>({ module, prepare }: Job<Data, Task, Answer>, data: Data, { most, bytes = 0, signal }: Terms): Crew<Task, Answer> => {
    const others = Math.max(0, Math.min(workers, most, threadsThatFit(availableParallelism(), memory(), bytes)) - 1);
    const pool = others === 0 ? null : startPool({ module, data }, others);
    const waiting: Waiting<Task>[] = [];
    const work = prepare(data);
    let there = 0;
    let here = false;
    const next = (): Waiting<Task> | undefined => {
      if (signal?.aborted === true) for (const { resolve } of waiting.splice(0)) resolve(undefined);
      return waiting.shift();
    };
    const workHere = async (): Promise<void> => {
      here = true;
      for (;;) {
        await turn();
        const one = next();
        if (one === undefined) break;
        try {
          one.resolve(work(one.task));
        } catch (error) {
          one.reject(error);
        }
      }
      here = false;
    };
    const workThere = async (crew: Piscina<Task, Sent>): Promise<void> => {
      there++;
      for (let one = next(); one !== undefined; one = next()) {
        await answerOf(crew, one.task).then(one.resolve, one.reject);
      }
      there--;
    };
    return {
      size: 1 + AHEAD * others,
      ask: (task) => new Promise<Answer | undefined>((resolve, reject) => {
        waiting.push({ task, resolve: resolve as (answer: unknown) => void, reject });
        if (!here) void workHere();
        else if (pool !== null && there < AHEAD * others) void workThere(pool);
      }),
      dismiss: async () => pool?.destroy(),
    };
  };
}

/**
 * Threads for which there are processors and memory, which is told of the machine in bytes, and of what one of them works with. More
 * would be no faster, and a full memory ends all of them without a word. Two are let try on one processor.
 */
export function threadsThatFit(processors: number, memory: number, bytes: number): number {
  return Math.max(1, Math.min(Math.max(2, processors), Math.floor(memory / 2 / (ROOM + bytes))));
}

/** What this process may use, which can be less than there is, bytes. */
function memory(): number {
  const constrained = process.constrainedMemory();
  return constrained > 0 ? Math.min(constrained, totalmem()) : totalmem();
}

async function answerOf<Task>(pool: Piscina<Task, Sent>, task: Task): Promise<unknown> {
  const sent = await pool.run(task).catch((error: unknown) => {
    throw lost(error) ?? error;
  });
  if ("tooLong" in sent) throw new RunTooLongError(sent.tooLong);
  return sent.answer;
}

/** What to tell of a thread that is gone; undefined for what its work has thrown. */
function lost(error: unknown): ThreadLostError | undefined {
  const { code, message } = error as NodeJS.ErrnoException;
  const outOfMemory = code === "ERR_WORKER_OUT_OF_MEMORY";
  if (!outOfMemory && code !== "ERR_WORKER_INIT_FAILED" && !/^(worker exited with code|Terminating worker)/.test(message)) return undefined;
  const why = outOfMemory ? "its memory was full" : "the system ended it";
  return new ThreadLostError(
    `a thread that simulated builds is gone before its work was done (${why}); nothing was written: try again with fewer threads ` +
      "(spread, tune and hunt have --workers 1 for that) or with fewer opening days (opening.run)",
  );
}

function startPool<Task>(orders: Orders, count: number): Piscina<Task, Sent> {
  const pool = new Piscina<Task, Sent>({
    filename: compiled(import.meta.url.replace(/threads(\.[tj]s)$/, "worker$1")),
    minThreads: count,
    maxThreads: count,
    concurrentTasksPerWorker: AHEAD,
    workerData: { ...orders, module: compiled(orders.module) } satisfies Orders,
  });
  // of a thread that has nothing to do; one with work says it by the promise of that work
  pool.on("error", () => undefined);
  return pool;
}

/** Threads run compiled code; where a module runs uncompiled, as in tests, what was compiled from it last. */
function compiled(module: string): string {
  if (!module.endsWith(".ts")) return module;
  const root = new URL("../../", import.meta.url).href;
  return module.replace(root, `${root}dist/`).replace(/ts$/, "js");
}
