import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { sequence } from "../../sim/counters/sequence.js";
import { netlist } from "../../sim/netlist/index.js";
import { JOHNSON_GATE, johnsonWayBack } from "../../sim/parts/selfstart.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { Bench } from "../oracle/logic.js";
import { often } from "../thorough.js";

/** A board with this counter, and with a divider where one is asked for. */
function board(counter: string, divide = 1): ReturnType<typeof parseScenario> {
  return parseScenario(
    `lampdrift: 1\ntitle: T\nhouses: { inn: }\nboards:\n  b:\n    timer: { kind: astable, chip: cmos, ra: 10k, rb: 100k, c: 10u, divide: ${divide} }\n` +
    `    counter: { ${counter} }\n    outputs: { 0: inn }\n`,
    "t.yaml",
  );
}

const wake = fc.infiniteStream(fc.boolean());
const bitsFrom =
  (stream: Iterator<boolean>) =>
  (count: number): number =>
    Array.from({ length: count }, (_, i) => Number(stream.next().value as boolean) << i).reduce((a, b) => a | b, 0);

const counters = fc.oneof(
  fc.integer({ min: 2, max: 40 }).map((n) => `kind: ring, steps: ${n}`),
  fc.integer({ min: 1, max: 12 }).map((n) => `kind: johnson, stages: ${n}`),
  fc.integer({ min: 1, max: 9 }).map((n) => `kind: binary, bits: ${n}`),
  fc.integer({ min: 3, max: 10 }).map((n) => `kind: lfsr, bits: ${n}`),
);

describe("a counter built from the wires of its card", () => {
  test("starts at its first step whatever its flip-flops wake up in, and goes through its steps in order", () => {
    fc.assert(
      fc.property(counters, wake, (counter, stream) => {
        const scenario = board(counter);
        const bench = new Bench(netlist(scenario, 0), bitsFrom(stream));
        const shown = sequence(scenario.boards[0]!.counter);
        const { steps } = shown;
        const count = Math.min(steps, 45);
        for (let s = 0; s < count; s++) {
          expect(bench.on(), `step ${s} of ${counter}`).toEqual(shown.on(s));
          bench.period();
        }
        if (count === steps) expect(bench.on()).toEqual(shown.on(0));
      }),
      { seed: 81, numRuns: often(12, 30) },
    );
  });

  test("that has no reset comes into its cycle from any pattern, and stays there", () => {
    const without = fc.oneof(
      fc.integer({ min: 1, max: 12 }).map((n) => `kind: johnson, stages: ${n}`),
      fc.integer({ min: 3, max: 9 }).map((n) => `kind: lfsr, bits: ${n}`),
    );
    fc.assert(
      fc.property(without, wake, (counter, stream) => {
        const scenario = board(`${counter}, powerUp: anywhere`);
        const bench = new Bench(netlist(scenario, 0), bitsFrom(stream));
        const built = scenario.boards[0]!.counter;
        const shown = sequence(built);
        const { steps } = shown;
        const way = built.kind === "johnson" ? johnsonWayBack(built.stages) : 1;
        for (let i = 0; i < way; i++) bench.period();
        const all = Array.from({ length: steps }, (_, s) => shown.on(s).join());
        const at = all.indexOf(bench.on().join());
        expect(at, `${counter}: ${bench.on().join()}`).toBeGreaterThanOrEqual(0);
        for (let s = 1; s <= Math.min(steps, 40); s++) {
          bench.period();
          expect(bench.on().join()).toBe(all[(at + s) % steps]);
        }
      }),
      { seed: 82, numRuns: often(12, 30) },
    );
  });

  test("a Johnson counter's gate is one that leads back in the fewest steps, of all pairs of stages", () => {
    /** The most steps from any pattern into the cycle of 2·n; Infinity where some pattern never comes there. */
    const wayBack = (n: number, i: number, j: number): number => {
      const on = (state: number, stage: number): boolean => ((state >> (stage - 1)) & 1) === 1;
      const next = (state: number): number => {
        const enters = !on(state, n) && (on(state, 1) || (!on(state, i) && !on(state, j)));
        return ((state << 1) % 2 ** n) + Number(enters);
      };
      const steps = new Map<number, number>();
      for (let state = 0; !steps.has(state); state = next(state)) steps.set(state, 0);
      if (steps.size !== 2 * n) return Infinity;
      for (let start = 0; start < 2 ** n; start++) {
        const way = [start];
        while (!steps.has(way.at(-1)!)) if (way.push(next(way.at(-1)!)) > 2 ** n) return Infinity;
        const known = steps.get(way.at(-1)!)!;
        way.forEach((state, k) => steps.set(state, known + way.length - 1 - k));
      }
      return Math.max(...steps.values());
    };
    for (let n = 3; n <= often(10, 12); n++) {
      const stages = Array.from({ length: n - 2 }, (_, k) => k + 2);
      const least = Math.min(...stages.flatMap((i) => stages.map((j) => (j < i ? Infinity : wayBack(n, i, j)))));
      expect(wayBack(n, ...JOHNSON_GATE[n]!), `${n} stages`).toBe(least);
      expect(johnsonWayBack(n), `${n} stages`).toBe(least);
    }
  });

  test("a shift register whose stages all wake up empty starts at the next step; a stuck one would stay dark", () => {
    for (const bits of [3, 4, 7, 9]) {
      const scenario = board(`kind: lfsr, bits: ${bits}, powerUp: anywhere`);
      const bench = new Bench(netlist(scenario, 0), () => 0);
      expect(bench.on()).toEqual([]);
      bench.period();
      expect(bench.on()).toEqual([0]);
    }
  });

  test("behind a divider steps at every n-th falling edge of the timer, the first time too, and at no rising one", () => {
    for (const divide of [2, 16, 64]) {
      for (const counter of ["kind: ring, steps: 10", "kind: ring, steps: 6", "kind: ring, steps: 13", "kind: johnson, stages: 6", "kind: binary, bits: 5", "kind: lfsr, bits: 4"]) {
        if (divide > 16 && counter !== "kind: ring, steps: 10") continue;
        const scenario = board(counter, divide);
        const bench = new Bench(netlist(scenario, 0), () => 0);
        const shown = sequence(scenario.boards[0]!.counter);
        for (let step = 0; step < 2; step++) {
          for (let period = 1; period <= divide; period++) {
            expect(bench.on()).toEqual(shown.on(step));
            bench.fall();
            expect(bench.on(), `${counter} ÷ ${divide}, falling edge ${period}`).toEqual(shown.on(period === divide ? step + 1 : step));
            bench.rise();
          }
        }
      }
    }
  });

  test("clocks another board as it comes back to its first step, and only then", () => {
    for (const counter of ["kind: ring, steps: 10", "kind: ring, steps: 6", "kind: ring, steps: 12", "kind: johnson, stages: 6", "kind: binary, bits: 3", "kind: lfsr, bits: 3",
      "kind: lfsr, bits: 5", "kind: lfsr, bits: 5, powerUp: anywhere", "kind: lfsr, bits: 9"]) {
      const text =
        `lampdrift: 1\ntitle: T\nhouses: { inn: }\nboards:\n  a: { timer: { kind: quartz, step: 9 s }, counter: { ${counter} }, outputs: { 0: inn } }\n` +
        "  b: { timer: { kind: carry, from: a }, counter: { kind: ring, steps: 2 }, outputs: { 0: inn } }\n";
      const scenario = parseScenario(text, "t.yaml");
      const net = netlist(scenario, 0);
      const carry = net.wires.find(({ to }) => to.device.name === "board b")!.from.pin;
      const bench = new Bench(net, () => 0);
      const shown = sequence(scenario.boards[0]!.counter);
      const [steps, first] = [shown.steps, shown.on(0).join()];
      for (let s = 1; s <= 2 * steps; s++) {
        const before = bench.level(carry);
        bench.period();
        expect(!before && bench.level(carry), `${counter}, step ${s}`).toBe(bench.on().join() === first);
      }
    }
  });
});
