import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bill } from "../../sim/bill/index.js";
import { netlist } from "../../sim/netlist/index.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { readScenario } from "../../sim/scenario/file.js";
import { display, textOf } from "./displays.js";
import { often } from "../thorough.js";

/** Pins that drive, or that are not connected inside the chip: these alone may stay without a wire. */
const OPEN = /^(Q\d|Y\d|NC\d|N?OR$|CARRY$|OSC OUT|OUT\d|COM$)/;

describe("every pin and every part is accounted for", () => {
  const scenarios = fc.oneof(
    { weight: 4, arbitrary: display.map((one) => parseScenario(textOf(one), "random.yaml")) },
    { weight: 1, arbitrary: fc.integer({ min: 11, max: 40 }).map((steps) => parseScenario(ring(steps), "ring.yaml")) },
  );
  const ring = (steps: number): string =>
    `lampdrift: 1\ntitle: T\nhouses: { inn: }\nboards: { b: { timer: { kind: quartz, step: 9 s }, counter: { kind: ring, steps: ${steps} }, outputs: { 0: inn } } }\n`;

  test("each pin of each chip has a wire, or is one that may stay open and is told to", () => {
    fc.assert(
      fc.property(scenarios, (scenario) => {
        scenario.boards.forEach((_, b) => {
          const { devices, wires, remarks } = netlist(scenario, b);
          const used = new Set(wires.flatMap(({ from, to }) => [from.pin, to.pin]));
          const open = remarks.find((text) => text.startsWith("Pins that stay open")) ?? "";
          for (const { role, name, pins } of devices) {
            if (role === "board") continue;
            for (const pin of pins) {
              if (used.has(pin) || (pin.number === null && /^(carry|outputs)$/.test(pin.name))) continue;
              expect(pin.name, `${name} ${pin.name} has no wire`).toMatch(OPEN);
              expect(open).toMatch(new RegExp(`[:;] ${name} (\\d+, )*${pin.number}\\b`));
            }
          }
        });
      }),
      { seed: 91, numRuns: often(20, 60) },
    );
  });

  test("each part of the netlists is on the bill, by its name, and nothing else is", () => {
    fc.assert(
      fc.property(scenarios, (scenario) => {
        const { items } = bill(scenario, 0);
        const told = new Map<string, number>();
        for (const { references, boards, count, what } of items) {
          if (what !== "wire") expect(Object.values(boards).reduce((a, b) => a + b, 0)).toBe(count);
          for (const [id, names] of Object.entries(references)) for (const name of names) told.set(`${id} ${name}`, (told.get(`${id} ${name}`) ?? 0) + 1);
        }
        const bought = new Set<string>();
        scenario.boards.forEach(({ id, timer }, b) => {
          for (const { role, name, goods } of netlist(scenario, b).devices) {
            const free = ["plus", "minus", "board"].includes(role) || (role === "timer" && timer.kind === "measured");
            if (!free) expect(goods.length, `${name} is not bought`).toBeGreaterThan(0);
            if (goods.length > 0) bought.add(`${id} ${name}`);
          }
        });
        expect([...told.keys()].sort()).toEqual([...bought].sort());
      }),
      { seed: 92, numRuns: often(20, 60) },
    );
  });

  test("lamps that several boards share are bought once; apart, for each output", () => {
    const text = (wired: string): string =>
      `lampdrift: 1\ntitle: T\nlamps: { window: { amps: 20 mA } }\nhouses: { inn: { wired: ${wired} } }\nboards:\n` +
      "  a: { timer: { kind: quartz, step: 9 s }, counter: { kind: ring, steps: 3 }, outputs: { 0: inn, 1: { house: inn, lamps: 2 } } }\n" +
      "  b: { timer: { kind: quartz, step: 7 s }, counter: { kind: ring, steps: 3 }, outputs: { 2: inn } }\n";
    const lamps = (wired: string): unknown => bill(parseScenario(text(wired), "t.yaml"), 0).items.filter(({ what }) => what === "lamp").map(({ count, boards }) => ({ count, boards }));
    expect(lamps("together")).toEqual([{ count: 2, boards: { a: 2 } }]);
    expect(lamps("apart")).toEqual([{ count: 4, boards: { a: 3, b: 1 } }]);
  });

  test("a bare LED brings its series resistor, and a scale the metres of wire", () => {
    // (12 − 0.74 − 3.1) V / 20 mA = 408 Ω, next of E24: 430 Ω, 0.16 W: by hand; 30 units of 10 mm, 0.3 m · 1.3 + 0.2 m, two wires: 1.18 m
    const scenario = parseScenario(
      "lampdrift: 1\ntitle: T\nscale: 10 mm\nlamps: { bulb: { forward: 3.1 V, amps: 20 mA } }\nhouses: { inn: { at: [30, 0] } }\nboards:\n" +
        "  a: { at: [0, 0], timer: { kind: quartz, step: 9 s }, counter: { kind: ring, steps: 3 }, outputs: { 0: inn } }\n",
      "t.yaml",
    );
    const { items } = bill(scenario, 0);
    expect(items.find(({ what, references }) => what === "resistor" && references["a"]!.includes("inn"))).toMatchObject({ value: "430 Ω", rating: "0.25 W", count: 1 });
    expect(items.find(({ what }) => what === "wire")!.count).toBeCloseTo(1.2, 9);
  });

  test("spares are whole pieces of each kind", async () => {
    const { items } = bill(await readScenario("scenarios/tidewater-lane.yaml"), 0.1);
    for (const { count, spares } of items) {
      expect(Number.isInteger(spares)).toBe(true);
      expect(spares).toBeGreaterThanOrEqual(0.1 * count - 1e-9);
      expect(spares).toBeLessThan(0.1 * count + 1);
    }
  });
});
