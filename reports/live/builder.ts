import { expectedPulses } from "../../sim/engine/limits.js";
import { InputError } from "../../sim/errors.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { chunksOf, rowsOf } from "../../sim/spread/chunk.js";
import { rows } from "../../sim/spread/evaluate.js";

/** What the worker is to do; plain data, since it is copied. */
export interface Order {
  readonly scenario: Scenario;
  readonly builds: number;
}

/** What it answers: the rows of a few builds, in order; at last an error that the scenario causes, if any. */
export type Answer = { readonly kind: "rows"; readonly rows: readonly Float64Array[] } | { readonly kind: "error"; readonly message: string };

/** The page's script inside a worker: simulates builds 1, 2, 3 … of the scenario it is sent, with their curves of returns. */
export function buildOnOrder(): void {
  addEventListener("message", ({ data }: MessageEvent<Order>) => {
    for (const answer of answers(data)) postMessage(answer);
  });
}

function* answers({ scenario, builds }: Order): Generator<Answer> {
  try {
    const evaluate = rows(scenario, true);
    for (const chunk of chunksOf(builds, 1, expectedPulses(scenario))) {
      const joined = rowsOf(evaluate, chunk);
      const width = joined.length / chunk.count;
      yield { kind: "rows", rows: Array.from({ length: chunk.count }, (_, i) => joined.slice(i * width, (i + 1) * width)) };
    }
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    yield { kind: "error", message: error.message };
  }
}
