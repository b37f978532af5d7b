import { sequence } from "../counters/sequence.js";
import type { Scenario } from "../model/scenario.js";

/** What a scenario describes that its author may not have meant. Nothing here is an error. */
export interface Findings {
  /** Outputs that come on at some step with nothing connected, by board id. */
  readonly idleOutputs: readonly { readonly board: string; readonly outputs: readonly number[] }[];
  /** Houses that no output ever lights. */
  readonly neverLit: readonly string[];
  /** Houses lit by several boards: either of them keeps the house lit. */
  readonly shared: readonly { readonly house: string; readonly boards: readonly string[] }[];
}

/** Looks through the wiring of a scenario. */
export function findings(scenario: Scenario): Findings {
  const lightedBy = scenario.houses.map(() => new Set<string>());
  const idleOutputs = scenario.boards.flatMap(({ id, counter, outputs }) => {
    const seq = sequence(counter);
    const comesOn = new Set<number>();
    for (let step = 0; step < seq.steps; step++) for (const output of seq.on(step)) comesOn.add(output);
    outputs.forEach((loads, output) => {
      if (comesOn.has(output)) for (const { house } of loads) lightedBy[house]!.add(id);
    });
    const idle = outputs.flatMap((loads, output) => (loads.length === 0 && comesOn.has(output) ? [output] : []));
    return idle.length === 0 ? [] : [{ board: id, outputs: idle }];
  });
  const each = scenario.houses.map(({ id }, h) => ({ house: id, boards: [...lightedBy[h]!] }));
  return {
    idleOutputs,
    neverLit: each.flatMap(({ house, boards }) => (boards.length === 0 ? [house] : [])),
    shared: each.filter(({ boards }) => boards.length > 1),
  };
}
