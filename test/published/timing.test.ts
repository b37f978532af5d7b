/** How long to keep a stopwatch running for one knob; a hand is off by 0.3 s at either end (common practice, no source). */
import { describe, expect, test } from "vitest";
import { stopwatch, type Timing } from "../../sim/knob/stopwatch.js";
import { parseScenario } from "../../sim/scenario/read.js";

/** For a step of 100 s on a counter, found to so many seconds; 0: to what is good enough, 2 % of a step. */
function timing(precision: number, { timer = "", counter = "kind: ring, steps: 3", outputs = "0: a, 1: b, 2: c", farads = "220u" } = {}): Timing {
  const text = `{ lampdrift: 1, title: Timing, houses: { a: , b: , c: }, boards: { q: { timer: { kind: astable, ra: 100k, rb: 100k, c: { value: ${farads}, leakage: 0 },
    trimmer: { value: 1M, in: rb }, setTo: 100 s ${timer} }, counter: { ${counter} }, outputs: { ${outputs} } } } }`;
  return stopwatch(parseScenario(text, "timing.yaml"), 0, precision);
}

describe("changes that are counted", () => {
  // both hands together are off by 0.6 s, which n steps share
  test.each([[1, 1, 0.6], [0.6, 1, 0.6], [0.59, 2, 0.3], [0.1, 6, 0.1], [0, 1, 0.6]])("to ± %d s: %i steps, ± %d s", (precision, count, within) => {
    const found = timing(precision);
    expect(found).toMatchObject({ watch: "changes", even: true, count, units: count });
    expect(found.within).toBeCloseTo(within, 9);
  });

  test("with jitter as many as 0.6/n + 3σ/√n asks for, tried one after the other", () => {
    for (const [jitter, divide] of [[0.01, 1], [0.02, 1], [0.02, 16]] as const) {
      const sigma = (100 * jitter) / Math.sqrt(divide);
      const off = (n: number): number => 0.6 / n + (3 * sigma) / Math.sqrt(n);
      let least = 1;
      while (off(least) > 1) least++;
      const found = timing(1, { timer: `, jitter: ${100 * jitter} %, divide: ${divide}`, farads: `${220 / divide}u` });
      expect(found.count).toBe(least);
      expect(found.within).toBeCloseTo(off(least), 9);
    }
  });
});

describe("where not every change can be counted", () => {
  test("whole rounds, holds included", () => {
    // 1 + 2.5 + 0.5 steps are four; 0.6 s shared by eight of them
    expect(timing(0.1, { counter: "kind: table, steps: [[0], [1], [2]], hold: [1, 2.5, 0.5]" })).toMatchObject({ watch: "rounds", even: false, count: 2, units: 8 });
    expect(timing(1, { outputs: "0: a" })).toMatchObject({ watch: "rounds", even: true, count: 1, units: 3 });
  });

  test("the shortest time between two, where a round takes longer than four hours; nothing, where nothing changes", () => {
    // 144 steps of 100 s are four hours
    expect(timing(1, { counter: "kind: ring, steps: 144" }).watch).toBe("rounds");
    expect(timing(1, { counter: "kind: ring, steps: 145" })).toMatchObject({ watch: "shortest", count: 1, units: 1 });
    expect(timing(1, { outputs: "0: a, 1: a, 2: a" }).watch).toBe("nothing");
  });
});
