/** What stands exactly at a limit, and a hair beyond it; expected values counted by hand. */
import { describe, expect, test } from "vitest";
import { checkPromises, figures, parseScenario, RunTooLongError, simulate, type Scenario } from "../../sim/index.js";
import { expectedPulses } from "../../sim/engine/limits.js";
import { atLeast, atMost, verdictOf } from "../../sim/ratings/rating.js";
import { ratings, type Rating } from "../../sim/ratings/index.js";

const read = (text: string): Scenario => parseScenario(`{ lampdrift: 1, title: Limits, ${text} }`, "limits.yaml");

describe("a rating", () => {
  test("at its limit is close, beyond it over; at 80 % of it within, beyond that close", () => {
    expect([0.8, 0.8001, 1, 1.0001].map(verdictOf)).toEqual(["within", "close", "close", "over"]);
    const plain = { what: "", where: "", unit: "A", source: "", advice: "less" };
    expect([99.99, 100, 100.01].map((value) => atMost({ ...plain, value, limit: 100 }).verdict)).toEqual(["close", "close", "over"]);
    expect([9.999, 10, 10.001].map((value) => atLeast({ ...plain, value, limit: 10 }).verdict)).toEqual(["over", "close", "close"]);
  });

  test("is not over its limit by what sums of doubles are off", () => {
    expect([0.1 + 0.2 > 0.3, (8 * (0.1 + 0.2)) / 3 > 0.8]).toEqual([true, true]);
    const plain = { what: "", where: "", unit: "A", source: "", advice: "less" };
    expect(atMost({ ...plain, value: 0.1 + 0.2, limit: 0.3 }).verdict).toBe("close");
    expect(atMost({ ...plain, value: 8 * (0.1 + 0.2), limit: 3 }).verdict).toBe("within");
  });

  /** Ten lamps of 10 mA at once, whose sum in doubles is 0.09999999999999999, and what the board itself takes. */
  const row = (limit: string): Rating => {
    const scenario = read(`supply: { limit: ${limit} }, lamps: { l: { amps: 10 mA } }, opening: { from: "10:00", until: "11:00", run: 1 },
      houses: { a: }, boards: { b: { timer: { kind: quartz, step: 60 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: { house: a, lamp: l, lamps: 10 } } } }`);
    const rows = ratings(scenario, simulate(scenario, { trace: true }));
    return rows.find(({ what }) => what === "supply current, worst moment")!;
  };
  test("of a supply that its lamps fill to the last", () => {
    const own = row("1 A").value - 0.1;
    expect(own).toBeGreaterThan(0);
    const supplied = (lampAmps: number): string => row(`${lampAmps + own} A`).verdict;
    expect([supplied(0.0999), supplied(0.1), supplied(0.1 / 0.8 + own)]).toEqual(["over", "close", "within"]);
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

  test("what is done with all its figures in a minute and 1.4 GB is simulated, more refused", () => {
    const many = (step: string, run = 1): Scenario =>
      read(`opening: { from: "00:00", until: "20:00", run: ${run} }, houses: { a: }, boards: { b: { timer: { kind: quartz, step: ${step} }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } }`);
    // 20 h = 72,000 s; two scenes come back so often that every point of the curve of returns is a walk along all spells
    expect(expectedPulses(many("10 ms"))).toBe(7_200_000);
    expect(() => expectedPulses(many("9 ms"))).toThrow("s for its figures, more than the limit of 60 s");
    expect(() => expectedPulses(many("1.7 ms"))).toThrow("more than the limit of 40,000,000");
    // days that are said to do are accepted, and no more
    expect(() => expectedPulses(many("1 s", 200))).toThrow("opening.run: 102 would do");
    expect(expectedPulses(many("1 s", 102))).toBe(102 * 72_000);
    expect(() => expectedPulses(many("1 s", 103))).toThrow(RunTooLongError);
  });

  test("memory counts scenes and houses", () => {
    // 14 boards of 4 patterns are more scenes than there are pulses, each a mask of 5,000 houses
    const boards = Array.from({ length: 14 }, (_, b) => `b${b}: { timer: { kind: quartz, step: 1 s }, counter: { kind: ring, steps: 4 }, outputs: { 0: h${3 * b}, 1: h${3 * b + 1}, 2: h${3 * b + 2} } }`);
    const houses = Array.from({ length: 5000 }, (_, h) => `h${h}:`);
    const wide = read(`opening: { from: "00:00", until: "24:00", run: 1 }, houses: { ${houses.join(", ")} }, boards: { ${boards.join(", ")} }`);
    expect(() => expectedPulses(wide)).toThrow("scenes of 5000 houses about");
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

test.each([
  ["to: 100 s", 120],
  ["from: 100 s", 80],
])("a step exactly at its limit breaks no promise, %s: the board beyond it is told", (limit, beyond) => {
  const scenario = read(`opening: { from: "10:00", until: "11:00", run: 1 }, houses: { a: , b: }, promises: [ step: { ${limit} } ], boards: {
    at: { timer: { kind: quartz, step: 100 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } },
    beyond: { timer: { kind: quartz, step: ${beyond} s }, counter: { kind: ring, steps: 2 }, outputs: { 0: b } } }`);
  const [found] = checkPromises(simulate(scenario));
  expect(found).toMatchObject({ kept: false, value: beyond, limit: 100 });
  expect(found!.where!.what).toContain("board beyond: ");
});
