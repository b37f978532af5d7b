import fc from "fast-check";
import { describe, expect, test, vi } from "vitest";
import { compareAlternatives } from "../../sim/compare/index.js";
import { billOf } from "../../sim/compare/counts.js";
import { simulate } from "../../sim/engine/simulate.js";
import { figures } from "../../sim/figures/index.js";
import { normal } from "../../sim/random/normal.js";
import { stream } from "../../sim/random/streams.js";
import { holm } from "../../sim/statistics/holm.js";
import { pairedDifference } from "../../sim/statistics/paired.js";
import { parseScenario } from "../../sim/scenario/read.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { buildOf } from "../../sim/spread/index.js";
import { often } from "../thorough.js";

vi.setConfig({ testTimeout: 60_000 });

/** Two boards whose parts are loose; the id of the first decides its draws. */
function twoBoards(seed: string, first = "quay", setting = "ra: 47k 5 %"): Scenario {
  return parseScenario(
    `lampdrift: 1
title: Two boards
seed: ${seed}
opening: { until: "03:00", run: 2 }
visitors: { stay: 5 min, returns: [10 min, 1 h] }
houses: { a: , b: , c: , d: }
boards:
  ${first}:
    timer: { kind: astable, ${setting}, rb: 470k 5 %, c: 100 uF ±20 % }
    counter: { kind: ring, steps: 2 }
    outputs: { 0: a, 1: b }
  hill:
    timer: { kind: astable, ra: 47k 5 %, rb: 560k 5 %, c: 100 uF ±20 % }
    counter: { kind: ring, steps: 2 }
    outputs: { 0: c, 1: d }
promises:
  - step: { from: 60 s }
`,
    "two.yaml",
  );
}

const options = { builds: 20, workers: 1 };

describe("chances of many comparisons at once", () => {
  test("by hand: 0.01, 0.04, 0.03, 0.005 become 0.03, 0.06, 0.06, 0.02", () => {
    // 4 × 0.005, 3 × 0.01, 2 × 0.03; then 1 × 0.04, which must not be below the one before
    expect(holm([0.01, 0.04, 0.03, 0.005])).toEqual([0.03, 0.06, 0.06, 0.02]);
    expect(holm([])).toEqual([]);
    expect(holm([0.7, 0.8])).toEqual([1, 1]);
  });

  const FAMILIES = often(250, 1000);
  test("are told falsely in one family of 20 at most, however the questions hang together", () => {
    for (const shared of [0, 0.7, 0.99]) {
      let told = 0;
      for (let i = 0; i < FAMILIES; i++) {
        const source = stream("families", i, `${shared}`, "parts");
        const common = Array.from({ length: 10 }, () => normal(source));
        const chances = Array.from({ length: 16 }, () => {
          const a = common.map((value) => Math.sqrt(shared) * value + Math.sqrt(1 - shared) * normal(source));
          return pairedDifference(new Float64Array(10), a)!.chance;
        });
        if (holm(chances).some((chance) => chance <= 0.05)) told++;
      }
      // and three standard deviations of such a count
      expect(told).toBeLessThanOrEqual(0.05 * FAMILIES + 3 * Math.sqrt(0.05 * 0.95 * FAMILIES));
    }
  });
});

describe("a paired difference", () => {
  test("by hand: 1, 2, 3 apart have the mean 2 and ± 4.302652729749462/√3", () => {
    // Student's t with two degrees of freedom: scipy.stats.t.ppf(0.975, 2); the sample's standard deviation is 1
    const found = pairedDifference([10, 20, 30], [11, 22, 33])!;
    expect(found.mean).toBe(2);
    expect(found.high - 2).toBeCloseTo(4.302652729749462 / Math.sqrt(3), 8);
    expect(found.low + found.high).toBeCloseTo(4, 12);
    expect(found.pairs).toBe(3);
    // with two degrees of freedom P(|T| > t) = 1 - t/√(t² + 2) (by integrating the density); here t = 2√3
    expect(found.chance).toBeCloseTo(1 - (2 * Math.sqrt(3)) / Math.sqrt(14), 10);
    expect(pairedDifference([10, 20, 30], [10, 20, 30])!.chance).toBe(1);
    expect(pairedDifference([10, 20, 30], [11, 21, 31])!.chance).toBe(0);
  });

  test("leaves out pairs with a value that is not defined", () => {
    expect(pairedDifference([1, NaN, 3, 4], [2, 5, NaN, 5])).toMatchObject({ mean: 1, pairs: 2 });
    expect(pairedDifference([1, NaN], [NaN, 2])).toBeNull();
  });

  test("holds the true difference 95 times in 100", () => {
    let held = 0;
    for (let i = 0; i < 1000; i++) {
      const source = stream("pairs", i, "x", "parts");
      const a = Array.from({ length: 12 }, () => normal(source));
      const b = a.map((value) => value + 0.3 + 0.5 * normal(source));
      const { low, high } = pairedDifference(a, b)!;
      if (low <= 0.3 && high >= 0.3) held++;
    }
    // ± 3 standard deviations of a count with probability 0.95
    expect(Math.abs(held - 950)).toBeLessThan(21);
  });

  test("turns round with its sides", () => {
    const values = fc.array(fc.tuple(fc.double({ min: -1e3, max: 1e3, noNaN: true }), fc.double({ min: -1e3, max: 1e3, noNaN: true })), { minLength: 2, maxLength: 20 });
    fc.assert(
      fc.property(values, (pairs) => {
        const a = pairs.map(([x]) => x);
        const b = pairs.map(([, y]) => y);
        const there = pairedDifference(a, b)!;
        const back = pairedDifference(b, a)!;
        expect(back.mean).toBeCloseTo(-there.mean, 9);
        expect(back.low).toBeCloseTo(-there.high, 9);
        expect(back.chance).toBe(there.chance);
        // the interval leaves out 0 exactly where chance is below 5 %
        if (Math.abs(there.chance - 0.05) > 1e-6) expect(there.low > 0 || there.high < 0).toBe(there.chance < 0.05);
      }),
      { seed: 31 },
    );
  });
});

describe("alternatives", () => {
  test("that are the same differ in nothing, build by build", async () => {
    const { differences } = await compareAlternatives([twoBoards("same"), twoBoards("same")], options);
    for (const { againstFirst, values, distinct } of differences) {
      expect(distinct).toBe(false);
      expect(values[1]).toBe(values[0]);
      expect(againstFirst[1]?.mean).toBe(0);
    }
  });

  test("are drawn alike whatever their seeds, since boards with one name share their draws", async () => {
    const { differences } = await compareAlternatives([twoBoards("one"), twoBoards("other")], options);
    for (const { againstFirst } of differences) expect(againstFirst[1]?.mean).toBe(0);
  });

  test("are asked about the visitors of the first, whatever their own are", async () => {
    const other = twoBoards("visitors");
    // within a minute fewer scenes are seen than in five
    const visitors = { ...other.visitors, stay: other.visitors.stay / 5 };
    const { differences } = await compareAlternatives([twoBoards("visitors"), { ...other, visitors }], options);
    for (const { figure, againstFirst } of differences) expect(againstFirst[1]?.mean, figure).toBe(0);
  });

  test("values are means over the builds, as simulating each of them gives them", async () => {
    const [a, b] = [twoBoards("means"), twoBoards("means", "quay", "ra: 220k 5 %")];
    const { differences } = await compareAlternatives([a, b], options);
    const of = (scenario: Scenario): number[] =>
      Array.from({ length: options.builds }, (_, i) => figures(simulate(scenario, { build: buildOf(scenario, i + 1) })).scenes.changesPerHour);
    const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
    const changes = differences.find(({ figure }) => figure === "scenes.changesPerHour")!;
    expect(changes.values[0]).toBeCloseTo(mean(of(a)), 9);
    expect(changes.values[1]).toBeCloseTo(mean(of(b)), 9);
    expect(changes.againstFirst[1]!.mean).toBeCloseTo(mean(of(b)) - mean(of(a)), 9);
    // 0.6931 · (220k + 2·470k) against (47k + 2·470k): steps 17.5 % longer on one board of two
    expect(changes.distinct).toBe(true);
  });

  test("that differ in name only, and so in their draws, are told apart in any figure once in twenty at most", async () => {
    let told = 0;
    let spared = 0;
    const pairs = often(16, 40);
    for (let i = 0; i < pairs; i++) {
      const { differences } = await compareAlternatives([twoBoards(`name ${i}`), twoBoards(`name ${i}`, "pier")], { builds: 12, workers: 1 });
      const changes = differences.find(({ figure }) => figure === "scenes.changesPerHour")!;
      expect(changes.againstFirst[1]!.mean).not.toBe(0);
      if (differences.some(({ distinct }) => distinct)) told++;
      // what is called distinct is so with all figures asked about at once
      const asked = differences.flatMap(({ againstFirst: [, pair] }) => (pair == null ? [] : [pair]));
      const together = holm(asked.map(({ chance }) => chance));
      expect(asked.map(({ distinct }) => distinct)).toEqual(together.map((chance) => chance <= 0.05));
      if (asked.some(({ chance, distinct }) => chance <= 0.05 && !distinct)) spared++;
    }
    expect(spared).toBeGreaterThan(0);
    // more than 4 of 16, or 7 of 40, would have a chance of 1 in 1000 at 5 %
    expect(told).toBeLessThanOrEqual(often(4, 7));
  });

  test("with fixed parts differ for certain, however little", async () => {
    const fixed = (step: string): Scenario =>
      parseScenario(`lampdrift: 1\ntitle: F\nopening: { until: "02:00", run: 1 }\nhouses: { a: , b: }\nboards:\n  q: { timer: { kind: quartz, step: ${step} }, counter: { kind: ring, steps: 2 }, outputs: { 0: a, 1: b } }\n`, "f.yaml");
    const { differences } = await compareAlternatives([fixed("60 s"), fixed("60.001 s")], { builds: 3, workers: 1 });
    expect(differences.find(({ figure }) => figure === "scenes.medianSeconds")).toMatchObject({ distinct: true });
    expect(differences.find(({ figure }) => figure === "scenes.distinct")).toMatchObject({ distinct: false, values: [2, 2] });
  });
});

test("the bill counts boards, houses, lamps and parts", () => {
  const scenario = parseScenario(
    `lampdrift: 1
title: Bill
supply: { volts: 12 V, regulator: { out: 5 V } }
houses: { a: { wired: apart }, b: }
boards:
  q:
    timer: { kind: astable, ra: 1k, rb: 100k, c: 1 uF, trimmer: { value: 100k, in: rb, dial: 50 % }, divide: 64 }
    counter: { kind: ring, steps: 10 }
    outputs: { 0: a, 1: { house: b, lamps: 3 }, 2: [a, b], 3: a, 4: a, 5: a, 6: a, 7: a, 8: a }
  r: { timer: { kind: carry, from: q }, counter: { kind: binary, bits: 1 }, outputs: { 0: b } }
`,
    "bill.yaml",
  );
  // q: chip, two resistors, capacitor, trimmer, divider, counter, two drivers for nine outputs; r: counter, driver; a regulator
  // eight outputs with a lamp each for a; for b one set, of which the largest output names three
  expect(billOf(scenario)).toEqual({ boards: 2, houses: 2, lamps: 8 + 3, parts: 9 + 2 + 1 });
});
