import { describe, expect, test } from "vitest";
import { boardTimes, parseScenario } from "../../sim/index.js";
import { stepTimes, type BoardSteps } from "../../sim/steptimes/index.js";
import { NOMINAL } from "../../sim/timers/build.js";

/** Step seconds of a timer in a room of this temperature; what the file does not give has no temperature coefficient. */
function stepAt(theta: number, timer: string): number {
  const scenario = parseScenario(
    `{ lampdrift: 1, title: Warm, room: { mean: ${theta} °C }, houses: { a: },
       boards: { one: { timer: { kind: astable, ${timer} }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } } }`,
    "warm.yaml",
  );
  return boardTimes(scenario)[0]!.stepSeconds;
}

const steady = (value: string): string => `{ value: ${value}, tolerance: 0, tempco: 0 }`;
const fixed = (chip: string): string => `${chip === "none" ? "" : `chip: ${chip}, `}ra: ${steady("10k")}, rb: ${steady("100k")}, c: { value: 100 uF, tolerance: 0, tempco: 0, leakage: 0 }`;

describe("what warmth does to a timer, by each part alone", () => {
  // TI NE555, SLFS022I, 7.5: astable 150 ppm/°C typical; TI LMC555, SNAS558N, 5.6: 75 ppm/°C
  test.each([
    ["bipolar", 150e-6],
    ["cmos", 75e-6],
    ["none", 0],
  ])("the chip, %s", (chip, ppm) => {
    // without tempco of its own, at 25 °C, a chip's threshold current is in both times alike
    const cold = stepAt(25, fixed(chip));
    expect(stepAt(45, fixed(chip)) / cold).toBeCloseTo(1 + 20 * ppm, 9);
    expect(stepAt(5, fixed(chip)) / cold).toBeCloseTo(1 - 20 * ppm, 9);
  });

  // resistance at a temperature: R·(1 + α·(θ − 25 °C)), the definition of the coefficient (common practice, no source)
  test.each(["ra", "rb"])("a trimmer in %s, set by its dial", (where) => {
    const timer = `ra: ${steady("0.001")}, rb: ${steady(where === "rb" ? "0.001" : "1")}, c: { value: 100 uF, tolerance: 0, tempco: 0, leakage: 0 },
      trimmer: { value: { value: 1M, tolerance: 0, tempco: 200 ppm/K }, in: ${where} }, dial: 50 %`;
    expect(stepAt(45, timer) / stepAt(25, timer)).toBeCloseTo(1 + 20 * 200e-6, 7);
  });
});

describe("in a room that warms up by 10 K above its mean of 25 °C, and cools down as far", () => {
  const extremes = (timer: string): number[] => {
    const scenario = parseScenario(
      `{ lampdrift: 1, title: Warm, room: { mean: 25 °C, swing: 10 K }, houses: { a: },
         boards: { one: { timer: { kind: astable, ${timer} }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } } }`,
      "warm.yaml",
    );
    const [{ meanSeconds, shortest, longest }] = stepTimes(scenario)(NOMINAL) as [BoardSteps];
    return [shortest, longest].map(({ seconds }) => seconds / meanSeconds - 1);
  };
  const expected = (ppm: number, found: readonly number[]): void => {
    expect(found[0]).toBeCloseTo(-10 * ppm, 7);
    expect(found[1]).toBeCloseTo(10 * ppm, 7);
  };

  test("the chip alone moves a step", () => {
    expected(150e-6, extremes(fixed("bipolar")));
    expected(0, extremes(fixed("none")));
  });

  test("the trimmer alone moves a step", () => {
    expected(200e-6, extremes(`ra: ${steady("0.001")}, rb: ${steady("0.001")}, c: { value: 100 uF, tolerance: 0, tempco: 0, leakage: 0 },
      trimmer: { value: { value: 1M, tolerance: 0, tempco: 200 ppm/K }, in: rb }, dial: 50 %`));
  });
});

test("a quartz board at the upper end of its tolerance takes longer by it", () => {
  const scenario = parseScenario(
    `{ lampdrift: 1, title: Quartz, houses: { a: }, boards: { one: { timer: { kind: quartz, step: 180 s, tolerance: 50 ppm }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } } }`,
    "quartz.yaml",
  );
  const at = (deviation: number): number => boardTimes(scenario, { number: 1, deviations: new Map([["one.quartz", deviation]]) })[0]!.stepSeconds;
  expect(at(1)).toBeCloseTo(180 * (1 + 50e-6), 9);
  expect(at(-1)).toBeCloseTo(180 * (1 - 50e-6), 9);
});
