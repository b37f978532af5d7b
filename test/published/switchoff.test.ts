import { describe, expect, test } from "vitest";
import { parseScenario } from "../../sim/scenario/read.js";
import { boardTimes } from "../../sim/timers/boardtimes.js";
import { displayOffSeconds, offSeconds } from "../../sim/timers/switchoff.js";

const scenarioOf = (timers: readonly string[]) =>
  parseScenario(
    `{ lampdrift: 1, title: t, room: { mean: 25 °C }, houses: { a: }, boards: { ${timers
      .map((timer, b) => `b${b}: { timer: { ${timer} }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } }`)
      .join(", ")} } }`,
    "t.yaml",
  );

/** The quay board of the demo: 2 min 50 s, R1·C 133 s. */
const QUAY = "kind: astable, ra: 100k, rb: 330k, c: { value: 220 uF, leakage: 0.1 uA }, trimmer: { value: 500k, in: rb }, setTo: 2 min 50 s";

/** The first step after `off` seconds without power, from a capacitor that was at two thirds or at one third, in seconds. */
function quayAfter(off: number, share: number): number {
  const [c, leak, volts] = [220e-6, 0.1e-6, 12];
  // the knob by bisection on the sum of both times
  const times = (rb: number, start: number): number => {
    const aim = volts - leak * (100e3 + rb);
    const high = (100e3 + rb) * c * Math.log((aim - start) / (aim - 8));
    return high + rb * c * Math.log((8 + leak * rb) / (4 + leak * rb));
  };
  let [low, high] = [330e3, 830e3];
  for (let i = 0; i < 200; i++) {
    const middle = (low + high) / 2;
    if (times(middle, 4) > 170) high = middle;
    else low = middle;
  }
  return times(low, share * volts * Math.exp(-off / ((100e3 + low) * c)));
}

test("is said in times that people say: never less than it takes, whole fives of seconds, whole minutes above two", () => {
  const said = new Set<number>();
  for (let farads = 20e-6; farads < 5e-3; farads *= 1.15) {
    const scenario = scenarioOf([`kind: astable, ra: 100k, rb: 100k, c: ${farads}`]);
    const seconds = offSeconds(scenario, 0);
    said.add(seconds);
    // within 2 % of the first step from empty: R1 drains two thirds of the supply; the first high time from what is left, closed form
    const [r1, supply] = [200e3, 12];
    const left = (after: number): number => (2 / 3) * supply * Math.exp(-after / (r1 * farads));
    const first = (start: number): number => r1 * farads * Math.log((supply - start) / (supply / 3)) + 100e3 * farads * Math.log(2);
    expect(first(left(seconds))).toBeGreaterThanOrEqual(0.98 * first(0));
    expect(seconds % (seconds > 120 ? 60 : 5)).toBe(0);
    if (seconds > 30) expect(first(left(seconds / 2))).toBeLessThan(0.98 * first(0));
  }
  expect(said.size).toBeGreaterThan(10);
});

describe("how long to switch off", () => {
  // closed form, V(t) = V(0)·e^(−t/R1C): 95 to 174 s after 10 s, 214 to 219 s after 300 s, 223 to 224 s after 600 s, 224 s from empty
  test("the quay board: the reckoning of this test gives the known figures", () => {
    for (const [off, from, to] of [[10, 95, 174], [300, 214, 219], [600, 223, 224]] as const) {
      expect(Math.abs(quayAfter(off, 2 / 3) - from)).toBeLessThan(1);
      expect(Math.abs(quayAfter(off, 1 / 3) - to)).toBeLessThan(1);
    }
    expect(Math.round(quayAfter(0, 0))).toBe(224);
    expect(boardTimes(scenarioOf([QUAY]))[0]!.firstStepSeconds).toBeCloseTo(quayAfter(0, 0), 6);
  });

  test("it is long enough for 2 %, and the next shorter time that people say is not", () => {
    const scenario = scenarioOf([QUAY]);
    const seconds = offSeconds(scenario, 0);
    expect(seconds).toBe(420);
    expect(quayAfter(seconds, 2 / 3)).toBeGreaterThanOrEqual(0.98 * quayAfter(0, 0));
    expect(quayAfter(360, 2 / 3)).toBeLessThan(0.98 * quayAfter(0, 0));
  });

  test("behind a divider the same volts matter less: one first high time stands against whole periods", () => {
    // R1·C 44 s, divided by 4: the first high time from what is left, and three periods of ln 2·(R1 + R2)·C
    const [r1, r2, farads] = [200e3, 100e3, 220e-6];
    const first = (off: number): number =>
      r1 * farads * Math.log((12 - 8 * Math.exp(-off / (r1 * farads))) / 4) + 3 * Math.LN2 * (r1 + r2) * farads;
    expect(offSeconds(scenarioOf(["kind: astable, ra: 100k, rb: 100k, c: 220 uF, divide: 4"]), 0)).toBe(120);
    expect(first(120)).toBeGreaterThanOrEqual(0.98 * first(Infinity));
    expect(first(90)).toBeLessThan(0.98 * first(Infinity));
  });

  test("ten seconds with a diode, for a quick timer and for controllers; a display waits for the slowest", () => {
    const scenario = scenarioOf([
      `${QUAY}, discharge: diode`,
      "kind: astable, ra: 4k7, rb: 100k, c: 1 uF, divide: 256",
      "kind: quartz, step: 60",
      QUAY,
      "kind: carry, from: b3",
    ]);
    expect(scenario.boards.map((_, b) => offSeconds(scenario, b))).toEqual([10, 10, 10, 420, 420]);
    expect(displayOffSeconds(scenario)).toBe(420);
  });
});

describe("first steps to a microsecond", () => {
  const first = (timer: string): number => boardTimes(scenarioOf([timer]))[0]!.firstStepSeconds;
  const [ra, rb, c, leak, volts] = [100e3, 1e6, 10e-6, 0.8e-6, 12];
  const aim = volts - leak * (ra + rb);
  const high = (start: number): number => (ra + rb) * c * Math.log((aim - start) / (aim - 8));
  const low = rb * c * Math.log((8 + leak * rb) / (4 + leak * rb));
  const parts = "kind: astable, ra: 100k, rb: 1M, c: { value: 10 uF, leakage: 0.8 uA }";

  // from the charging law of a capacitor with a constant current drawn from it
  test("a diode leaves 0.6 V on the capacitor (common practice, no source)", () => {
    expect(first(parts)).toBeCloseTo(high(0) + low, 7);
    expect(first(`${parts}, discharge: diode`)).toBeCloseTo(high(0.6) + low, 7);
  });

  test("divided: one first high time and n − 1 periods", () => {
    expect(first(`${parts}, divide: 16`)).toBeCloseTo(high(0) + 15 * (high(4) + low), 6);
    expect(first(`${parts}, divide: 16, discharge: diode`)).toBeCloseTo(high(0.6) + 15 * (high(4) + low), 6);
  });
});
