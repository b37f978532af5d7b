import { workerData } from "node:worker_threads";
import { RunTooLongError } from "../engine/limits.js";
import { rows } from "./evaluate.js";
import { rowsOf, type Chunk } from "./chunk.js";
import type { Job } from "./pool.js";

const { scenario, curves } = workerData as Job;
const evaluate = rows(scenario, curves);

/**
 * What a worker thread does: the rows of a few builds. The message alone where one of them cannot be simulated, since
 * an error loses its class on the way between threads.
 */
export default function work(chunk: Chunk): Float64Array | string {
  try {
    return rowsOf(evaluate, chunk);
  } catch (error) {
    if (error instanceof RunTooLongError) return error.message;
    throw error;
  }
}
