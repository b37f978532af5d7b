import { workerData } from "piscina";
import { RunTooLongError } from "../engine/limits.js";
import type { Scenario } from "../scenario/model.js";
import { rows } from "./evaluate.js";
import { rowsOf, type Chunk } from "./chunk.js";

const { scenario, curves } = workerData as { scenario: Scenario; curves: boolean };
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
