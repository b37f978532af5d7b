/** What stands exactly at a limit, and a hair beyond it; expected values counted by hand. */
import { describe, expect, test } from "vitest";
import { figures, parseScenario, RunTooLongError, simulate, type Scenario } from "../../sim/index.js";
import { expectedPulses } from "../../sim/engine/limits.js";
import { atLeast, atMost, verdictOf } from "../../sim/ratings/rating.js";
import { ratings } from "../../sim/ratings/index.js";

const read = (text: string): Scenario => parseScenario(`{ lampdrift: 1, title: Limits, ${text} }`, "limits.yaml");

describe("a rating", () => {
  test("at its limit is close, beyond it over; at 80 % of it within, beyond that close", () => {
    expect([0.8, 0.8001, 1, 1.0001].map(verdictOf)).toEqual(["within", "close", "close", "over"]);
    const row = { what: "", where: "", unit: "A", source: "", advice: "less" };
    expect([99.99, 100, 100.01].map((value) => atMost({ ...row, value, limit: 100 }).verdict)).toEqual(["close", "close", "over"]);
    expect([9.999, 10, 10.001].map((value) => atLeast({ ...row, value, limit: 10 }).verdict)).toEqual(["over", "close", "close"]);
  });

  /** Ten lamps of 10 mA at once, whose sum in doubles is 0.09999999999999999. */
  const supplied = (limit: string): string => {
    const scenario = read(`supply: { limit: ${limit} }, lamps: { l: { amps: 10 mA } }, opening: { from: "10:00", until: "11:00", run: 1 },
      houses: { a: }, boards: { b: { timer: { kind: quartz, step: 60 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: { house: a, lamp: l, lamps: 10 } } } }`);
    const rows = ratings(scenario, simulate(scenario, { trace: true }));
    return rows.find(({ what }) => what === "supply current, worst moment")!.verdict;
  };
  test("of a supply that its lamps fill to the last", () => {
    expect([supplied("99.9 mA"), supplied("100 mA"), supplied("130 mA")]).toEqual(["over", "close", "within"]);
  });
});

describe("of equal worst moments the first is told", () => {
  // two rings of 3 steps a minute each, in step: outputs 0 and 2 ask for the same, output 1 for less; Monday 10:00 is the first
  const scenario = read(`supply: { limit: 1 A }, opening: { from: "10:00", until: "12:00", run: 2 }, lamps: { l: { amps: 20 mA } }, houses: { a: , b: , c: },
    boards: { q: { timer: { kind: quartz, step: 60 s }, counter: { kind: ring, steps: 3 }, driver: { kind: darlington-8 },
      outputs: { 0: { house: a, lamp: l, lamps: 2 }, 1: { house: b, lamp: l }, 2: { house: c, lamp: l, lamps: 2 } } } }`);
  const rows = ratings(scenario, simulate(scenario, { trace: true }));
  const TEN = 10 * 3600e6;

  test.each(["supply current, worst moment", "driver package current"])("%s", (what) => {
    const row = rows.find((one) => one.what === what)!;
    expect(row.worst).toEqual({ at: TEN, houses: ["a"] });
  });

  test.each(["one", "two", "three", "four", "five"])("also where the counter begins elsewhere: shuffled, seed %s", (seed) => {
    const shuffled = read(`seed: ${seed}, supply: { limit: 1 A }, opening: { from: "10:00", until: "12:00", run: 1 }, lamps: { l: { amps: 20 mA } },
      houses: { a: , b: , c: , d: }, boards: { q: { timer: { kind: quartz, step: 60 s }, counter: { kind: shuffle, steps: [[], [0], [1], [2], [3]] },
        driver: { kind: darlington-8 }, outputs: { ${["a", "b", "c", "d"].map((house, i) => `${i}: { house: ${house}, lamp: l }`).join(", ")} } } }`);
    const record = simulate(shuffled, { trace: true });
    // the first row shows nothing; the one behind it comes a minute later
    const [house] = record.scenes.lit(record.spellScene[1]!);
    const row = ratings(shuffled, record).find(({ what }) => what === "driver package current")!;
    expect(row.worst).toEqual({ at: TEN + 60e6, houses: [shuffled.houses[house!]!.id] });
  });
});

describe("a run's length is counted before it starts", () => {
  // one opening of 1 h and 2^12 timer periods a step: 3600 s / 64 s = 56.25 steps; with jitter every period is looked at
  const timer = (more: string): Scenario =>
    read(`opening: { from: "10:00", until: "11:00", run: 1 }, houses: { a: }, boards: { b: { timer: { kind: astable,
      ra: { value: 1e-9, tolerance: 0 }, rb: { value: ${1 / (2 * Math.LN2 * 64)}, tolerance: 0 }, c: { value: 1, tolerance: 0, leakage: 0 }, divide: 4096 ${more} },
      counter: { kind: ring, steps: 2 }, outputs: { 0: a } } }`);

  test("in steps where the timer is steady, in timer periods where it jitters or drifts", () => {
    expect(expectedPulses(timer(""))).toBe(57);
    for (const more of [", jitter: 1 %", ", drift: 1 %/1000 h"]) expect(expectedPulses(timer(more))).toBe(3600 * 64);
  });

  test("50,000,000 are simulated, more refused", () => {
    // quartz of 1 ms: 50,000,000 pulses are 50,000 s; 13 h 53 min 20 s are not whole hours, so three boards make it up
    const many = (step: string): Scenario =>
      read(`opening: { from: "00:00", until: "20:00", run: 1 }, houses: { a: }, boards: { b: { timer: { kind: quartz, step: ${step} }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } }`);
    // 20 h = 72,000 s, in steps of 1.44 ms
    expect(expectedPulses(many("1.44 ms"))).toBe(50_000_000);
    expect(() => expectedPulses(many("1.4399 ms"))).toThrow(RunTooLongError);
  });
});

test("combinations of counter positions are counted up to 1,000,000, that number included", () => {
  const combinations = (other: number): number | null => {
    const scenario = read(`opening: { from: "10:00", until: "11:00", run: 1 }, houses: { a: , b: , c: , d: }, boards: {
      p: { timer: { kind: quartz, step: 60 s }, counter: { kind: ring, steps: 1000 }, outputs: { 0: a, 1: b } },
      q: { timer: { kind: quartz, step: 70 s }, counter: { kind: ring, steps: ${other} }, outputs: { 0: c, 1: d } } }`);
    return figures(simulate(scenario)).scenes.combinations;
  };
  // each board shows its first house, its second, or none
  expect(combinations(1000)).toBe(9);
  expect(combinations(1001)).toBeNull();
});
