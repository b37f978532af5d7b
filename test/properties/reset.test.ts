import fc from "fast-check";
import { expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import { netlist } from "../../sim/netlist/index.js";
import { startOf } from "../../sim/parts/resetinputs.js";
import { ratings } from "../../sim/ratings/index.js";
import { parseScenario } from "../../sim/scenario/read.js";

const counter = fc.oneof(
  fc.integer({ min: 2, max: 70 }).map((n) => `kind: ring, steps: ${n}`),
  fc.integer({ min: 1, max: 14 }).map((n) => `kind: johnson, stages: ${n}`),
  fc.integer({ min: 1, max: 9 }).map((n) => `kind: binary, bits: ${n}`),
  fc.integer({ min: 3, max: 9 }).map((n) => `kind: lfsr, bits: ${n}`),
  fc.constant("kind: table, steps: [[0], []]"),
);

const display = fc.record({
  counter,
  powerUp: fc.constantFrom("reset", "anywhere"),
  divide: fc.constantFrom(1, 2, 3, 16, 4096, 16_384, 32_768),
  volts: fc.constantFrom(5, 9, 12, 15),
});

const read = ({ counter: kind, powerUp, divide, volts }: { counter: string; powerUp: string; divide: number; volts: number }) =>
  parseScenario(
    `lampdrift: 1
title: One board
opening: { from: "10:00", until: "11:00", run: 1 }
supply: { volts: ${volts} V }
houses: { inn: }
boards: { quay: { timer: { kind: astable, chip: cmos, ra: 10k, rb: 100k, c: 10 uF, divide: ${divide} }, counter: { ${kind}, powerUp: ${powerUp} }, outputs: { 0: inn } } }
`,
    "one.yaml",
  );

test("the reset that is rated is the one on the wiring card", () => {
  fc.assert(
    fc.property(display, (one) => {
      const scenario = read(one);
      expect(startOf(scenario.boards[0]!, one.volts)).toEqual(netlist(scenario, 0).start);
    }),
    { numRuns: 150 },
  );
});

test("its peak is that of a high-pass behind a ramp, integrated in small steps, with the parts at their least", () => {
  const scenario = read({ counter: "kind: ring, steps: 8", powerUp: "reset", divide: 1, volts: 12 });
  const row = ratings(scenario, simulate(scenario, { trace: true })).find(({ what }) => what === "reset at switch-on")!;
  // two pull-downs of 100 kΩ in parallel at −5 %, the capacitor of the card at −20 %, a diode of 0.6 V behind it
  const tau = 50e3 * 0.95 * startOf(scenario.boards[0]!, 12)!.farads * 0.8;
  const steps = 200_000;
  const dt = 0.2 / steps;
  let node = 0;
  for (let i = 0; i < steps; i++) node += (12 / 0.2) * dt - (node / tau) * dt;
  expect(row.value).toBeCloseTo(node - 0.6, 3);
  expect(row.limit).toBeCloseTo(0.7 * 12, 12);
  expect(row.verdict).not.toBe("over");
});
