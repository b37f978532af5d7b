import { describe, expect, test } from "vitest";
import { knobFigures, type KnobFigures } from "../../sim/knob/index.js";
import { turnText } from "../../reports/cards/knob-times.js";
import { settingAt, usualReach } from "../../sim/knob/settings.js";
import type { KnobSetting, Part, Trimmer } from "../../sim/model/timer.js";
import { parseScenario } from "../../sim/scenario/read.js";

function figures(timer: object, volts: number): KnobFigures {
  const text = {
    lampdrift: 1,
    title: "t",
    supply: { volts },
    houses: { a: null },
    boards: { b: { timer: { kind: "astable", ...timer }, counter: { kind: "ring", steps: 2 }, outputs: { 0: "a" } } },
  };
  return knobFigures(parseScenario(JSON.stringify(text), "t.yaml"), 0)!;
}

const off = (value: number, expected: number): number => Math.abs(value - expected) / expected;

describe("step times at the stops of a knob", () => {
  const timer = { ra: "100k", rb: "500k", c: "10 uF", trimmer: { value: "500k", in: "rb" }, dial: "50 %" };

  // T = 0.693(RA + 2 RB)C: TI NA/NE/SA/SE555, SLFS022I, 8.3.2 eq. 1-7, whose constant is low by 2.12e-4 against ln 2
  test("the printed formula: 100 k, 500 k to 1 M, 10 µF", () => {
    const { scale } = figures(timer, 9);
    expect(off(0.693 * (100e3 + 2 * 500e3) * 10e-6, scale.stepAt(0))).toBeCloseTo(2.12e-4, 6);
    expect(off(0.693 * (100e3 + 2 * 1e6) * 10e-6, scale.stepAt(1))).toBeCloseTo(2.12e-4, 6);
  });

  // derived from the exact formulas
  test("100 k, 1 M, 10 µF at the right stop", () => {
    expect(off(figures(timer, 9).scale.stepAt(1), 14.55609079)).toBeLessThan(1e-9);
  });

  // closed form tH = RC ln((V-IR-V/3)/(V-IR-2V/3)), tL = RB C ln((2V/3+I RB)/(V/3+I RB)), worked out with 30 digits
  test("9 V, 100 k, 1 M, 100 µF, 1 µA at the right stop, and the first step", () => {
    const leaky = { ...timer, c: { value: "100 uF", leakage: "1 uA" }, dial: "100 %" };
    const { scale, set } = figures(leaky, 9);
    expect(off(scale.stepAt(1), 104.2119451 + 55.9615788)).toBeLessThan(1e-8);
    expect(off(set.firstSeconds, 156.7509761 + 55.9615788)).toBeLessThan(1e-8);
    expect(set.dial).toBe(1);
  });
});

// Omeg P20 and Bourns 3386P sheets: 300° mechanical; Bourns 3386P: 250° electrical, so that 25° at either stop do nothing
test("a knob's place in degrees from its left stop", () => {
  expect([0, 0.5, 1].map(turnText)).toEqual(["25°", "150°", "275°"]);
});

// common practice, no source: 10 % of the track at half travel
test("a logarithmic track has a tenth of its resistance in circuit at half travel", () => {
  const { scale } = figures({ ra: "100k", rb: "500k", c: "10 uF", trimmer: { value: "500k", in: "ra", taper: "log" }, dial: "50 %" }, 9);
  expect(scale.ohmsAt(0.5)).toBeCloseTo(50e3, 6);
  expect(off(scale.stepAt(0.5), Math.LN2 * (150e3 + 2 * 500e3) * 10e-6)).toBeLessThan(1e-12);
});

test("a knob that the file sets by its dial is read to a second, another to what the file says (common practice, no source)", () => {
  const trimmer = (setting: KnobSetting): Trimmer => ({ part: { value: 1e6, minus: 0, plus: 0 } as Part, in: "rb", taper: "linear", setting });
  expect(settingAt(trimmer({ kind: "dial", dial: 0.5 }), 90)).toEqual({ kind: "step", step: 90, reading: 1 });
  expect(settingAt(trimmer({ kind: "step", step: 60, reading: 0.2 }), 90)).toEqual({ kind: "step", step: 90, reading: 0.2 });
});

test("what a knob usually reaches: 99 builds of 100 at either end, with a capacitor of 20 % alone", () => {
  // 100 k + 2·500 k to 100 k + 2·1 M, 10 µF: ln 2·11 s and ln 2·21 s, of which the usual ends are about 98 % of the tolerance inside
  const exact = (value: string): string => `{ value: ${value}, tolerance: 0 }`;
  const scenario = parseScenario(
    `{ lampdrift: 1, title: Usual, houses: { a: }, boards: { b: { timer: { kind: astable, ra: ${exact("100k")}, rb: ${exact("500k")}, c: { value: 10 uF, tolerance: 20 %, leakage: 0 },
       trimmer: { value: 500k ±0 %, in: rb }, dial: 50 % }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } } }`,
    "usual.yaml",
  );
  const { from, to } = usualReach(scenario, 0)!;
  for (const inside of [from / (Math.LN2 * 11) - 1, 1 - to / (Math.LN2 * 21)]) {
    expect(inside).toBeGreaterThan(0.185);
    expect(inside).toBeLessThan(0.2);
  }
});
