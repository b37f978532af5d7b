import { describe, expect, test } from "vitest";
import { wilson } from "../../sim/statistics/intervals.js";
import { quantiles } from "../../sim/statistics/quantiles.js";

describe("Wilson score interval, 95 %", () => {
  // Newcombe, Statistics in Medicine 17 (1998) 857-872, table I; computed with scipy.stats.binomtest(k, n).proportion_ci(0.95, "wilson")
  test.each([
    [81, 263, 0.255289, 0.36621],
    [15, 148, 0.062386, 0.160487],
    [0, 20, 0, 0.161125],
    [1, 29, 0.006113, 0.171755],
  ])("%i of %i", (kept, of, low, high) => {
    const found = wilson(kept, of);
    expect(found.share).toBe(kept / of);
    expect(Math.abs(found.low - low)).toBeLessThan(1e-6);
    expect(Math.abs(found.high - high)).toBeLessThan(1e-6);
  });

  // R 3.6.2 prop.test, kept in SciPy's own test file
  test.each([
    [3, 10, 0.1077913, 0.6032219],
    [0, 10, 0, 0.2775328],
    [10, 10, 0.7224672, 1],
  ])("%i of %i", (kept, of, low, high) => {
    const found = wilson(kept, of);
    expect(Math.abs(found.low - low)).toBeLessThan(1e-6);
    expect(Math.abs(found.high - high)).toBeLessThan(1e-6);
  });
});

describe("Wilson score interval, any confidence", () => {
  // 0.995 quantile of the standard normal distribution; values from R 3.6.2 prop.test, kept in SciPy's own test file
  test("3 of 10 at 99 %", () => {
    const { low, high } = wilson(3, 10, 2.5758293035489004);
    expect(Math.abs(low - 0.07956632)).toBeLessThan(1e-7);
    expect(Math.abs(high - 0.6799753)).toBeLessThan(1e-6);
  });

  // what defines it (Wilson 1927): its ends are the shares p from which k/n is just z standard errors √(p(1 − p)/n) away
  test.each([1, 2, 7, 40, 1000])("of %i the ends are z standard errors from what was found", (n) => {
    const step = Math.max(1, Math.floor(n / 40));
    for (const z of [1, 1.959963984540054, 3]) {
      for (let k = 0; k <= n; k += step) {
        const { share, low, high } = wilson(k, n, z);
        for (const p of [low, high]) {
          if (p === share) continue;
          expect(Math.abs(Math.abs(share - p) / Math.sqrt((p * (1 - p)) / n) - z)).toBeLessThan(1e-9);
        }
        expect(low === share).toBe(k === 0);
        expect(high === share).toBe(k === n);
      }
    }
  });

  test("none and all have exact ends, and nothing looked at tells nothing", () => {
    for (let n = 1; n <= 200; n++) {
      expect(wilson(0, n).low).toBe(0);
      expect(wilson(n, n).high).toBe(1);
    }
    expect(wilson(0, 0)).toEqual({ share: 0, low: 0, high: 1 });
  });
});

describe("quantiles", () => {
  // definition 7 by hand: the p-quantile of n values lies (n − 1)·p places above the first
  test("of 1 … 21 in any order are the values themselves", () => {
    const values = Float64Array.from({ length: 21 }, (_, i) => ((i * 8) % 21) + 1);
    expect(quantiles(values)).toEqual({ p05: 2, p50: 11, p95: 20, min: 1, max: 21 });
  });

  test("lie between two values where the place does", () => {
    expect(quantiles(Float64Array.of(10, 20))).toEqual({ p05: 10.5, p50: 15, p95: 19.5, min: 10, max: 20 });
  });

  test("leave out what is not a number, and are null of nothing", () => {
    expect(quantiles(Float64Array.of(NaN, 7, Infinity))).toEqual({ p05: 7, p50: 7, p95: 7, min: 7, max: 7 });
    expect(quantiles(Float64Array.of(NaN))).toBeNull();
  });
});
