import { workerData } from "node:worker_threads";
import { RunTooLongError } from "../engine/limits.js";
import type { Job } from "./crew.js";
import type { Orders, Sent } from "./threads.js";

const { module, data } = workerData as Orders;
const { job } = (await import(module)) as { job: Job<unknown, unknown, unknown> };
const work = job.prepare(data);

/** What a worker thread does: one piece of its job. */
export default function done(task: unknown): Sent {
  try {
    return { answer: work(task) };
  } catch (error) {
    if (error instanceof RunTooLongError) return { tooLong: error.message };
    throw error;
  }
}
