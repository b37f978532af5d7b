/** Work that comes in pieces: what each needs to know beforehand, and how it is done. Data are plain, since threads are sent copies. */
export interface Job<Data, Task, Answer> {
  /** Address of the module that exports it as `job`, for threads to load. */
  readonly module: string;
  /** Makes ready for the job what does the pieces of it. */
  readonly prepare: (data: Data) => (task: Task) => Answer;
}

/** Those who do the pieces of one job. */
export interface Crew<Task, Answer> {
  /** Pieces that are usefully asked for at a time. */
  readonly size: number;
  /** Has one piece done; undefined when it was not begun before the work was stopped. */
  ask(task: Task): Promise<Answer | undefined>;
  /** Sends everybody home; what is under way is waited for. */
  dismiss(): Promise<void>;
}

/** For what a crew is gathered. */
export interface Terms {
  /** Threads for which there is work. */
  readonly most: number;
  /** What a thread works with at a time, bytes; little unless said. */
  readonly bytes?: number | undefined;
  /** Stops the work: what has not begun by then is left undone. */
  readonly signal?: AbortSignal | undefined;
}

/** Gathers a crew for a job; the caller dismisses it. */
export type Hire = <Data, Task, Answer>(job: Job<Data, Task, Answer>, data: Data, terms: Terms) => Crew<Task, Answer>;

/** The calling thread by itself. */
export const alone: Hire = ({ prepare }, data, { signal }) => {
  const work = prepare(data);
  return {
    size: 1,
    ask: async (task) => {
      await turn();
      return signal?.aborted === true ? undefined : work(task);
    },
    dismiss: () => Promise.resolve(),
  };
};

/** Clock pulses that are work for one thread: it takes about a tenth of that until it has started. */
const WORTH_A_THREAD = 2_000_000;

/** For how many threads there is work in runs of so many pulses in all. */
export function threadsFor(pulses: number): number {
  return Math.max(1, Math.floor(pulses / WORTH_A_THREAD));
}

/** Lets a signal, or the answer of a thread, come through: they are noticed only between turns of the event loop. */
export function turn(): Promise<void> {
  return new Promise((resolve) => {
    if (typeof setImmediate === "function") setImmediate(resolve);
    else setTimeout(resolve);
  });
}

/** Work under way at the same time, up to some number of pieces. */
export class Queue {
  private readonly underWay = new Set<Promise<void>>();
  private readonly failures: unknown[] = [];

  constructor(private readonly most: number) {}

  /** Whether a piece has failed. */
  get failed(): boolean {
    return this.failures.length > 0;
  }

  /** Begins a piece, and waits until there is room for another. After a failure nothing is begun. */
  async put(work: () => Promise<void>): Promise<void> {
    if (this.failed) return;
    const piece: Promise<void> = work()
      .catch((error: unknown) => void this.failures.push(error))
      .finally(() => this.underWay.delete(piece));
    this.underWay.add(piece);
    while (this.underWay.size >= this.most) await Promise.race(this.underWay);
  }

  /** Waits for everything under way; throws what the first failure has thrown. */
  async end(): Promise<void> {
    await Promise.all(this.underWay);
    if (this.failed) throw this.failures[0] as Error;
  }
}

/**
 * Has all tasks done, and hands over the answers as they come. Ends early when the work is stopped, or when a task fails,
 * which is then thrown; the others under way are waited for.
 */
export async function shareOut<Task, Answer>(
  crew: Crew<Task, Answer>,
  tasks: readonly Task[],
  take: (answer: Answer, index: number) => void,
): Promise<void> {
  const queue = new Queue(crew.size);
  const unanswered: number[] = [];
  for (const [index, task] of tasks.entries()) {
    if (unanswered.length > 0 || queue.failed) break;
    await queue.put(async () => {
      const answer = await crew.ask(task);
      if (answer === undefined) unanswered.push(index);
      else take(answer, index);
    });
  }
  await queue.end();
}
