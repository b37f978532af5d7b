import seedrandom from "seedrandom";
import { describe, expect, test } from "vitest";
import { normal, truncatedNormal } from "../../sim/random/normal.js";
import { below, stream, type Stream } from "../../sim/random/streams.js";

describe("the generator", () => {
  test("gives its documented numbers", () => {
    // seedrandom 3.0.5, README, "other fast PRNG algorithms": alea seeded with 'hello.'
    const documented = seedrandom.alea("hello.");
    expect(documented()).toBe(0.4783254903741181);
    expect(documented.double()).toBe(0.8297006866124559);
    expect(documented.int32()).toBe(1076136327);
    // the same generator run in seedrandom 3.0.5 on Node 20
    const plain = seedrandom.alea("hello.");
    expect([plain(), plain()]).toEqual([0.4783254903741181, 0.8297006865032017]);
    expect(seedrandom.alea("1")()).toBe(0.526047095656395);
  });

  test("is what the streams are made of, under the key of seed, build, board and purpose", () => {
    const documented = seedrandom.alea('["tidewater",7,"quay","jitter"]');
    const source = stream("tidewater", 7, "quay", "jitter");
    for (let i = 0; i < 1000; i++) {
      if (i % 3 === 0) expect(source.int32()).toBe(documented.int32());
      else expect(source.uniform()).toBe(documented());
    }
  });

  test("gives another stream for every part of the key, and for the same text split otherwise", () => {
    const keys: readonly (readonly [string, number, string, Parameters<typeof stream>[3]])[] = [
      ["s", 0, "quay", "jitter"],
      ["s", 0, "quay", "shuffle"],
      ["s", 0, "quay", "power-up"],
      ["s", 0, "quay", "glitches"],
      ["s", 0, "quay", "parts"],
      ["s", 0, "hill", "jitter"],
      ["s", 1, "quay", "jitter"],
      ["t", 0, "quay", "jitter"],
      ['s",0,"quay', 0, "quay", "jitter"],
      ["s,0", 0, "quay", "jitter"],
      ["", 0, "quay", "jitter"],
    ];
    const starts = keys.map(([seed, build, board, purpose]) => {
      const source = stream(seed, build, board, purpose);
      return [source.uniform(), source.uniform(), source.uniform()].join();
    });
    expect(new Set(starts).size).toBe(keys.length);
  });

  test("gives whole numbers below n, each equally often", () => {
    // Pearson's chi-square with 9 degrees of freedom: 46.43 leaves one false alarm in 2 million (SciPy 1.17.1, chi2.isf(5e-7, 9)).
    const source = stream("below", 0, "quay", "shuffle");
    const draws = 2_000_000;
    const counts = new Float64Array(10);
    for (let i = 0; i < draws; i++) counts[below(source, 10)]!++;
    expect(counts.reduce((sum, count) => sum + count)).toBe(draws);
    expect(chiSquare(counts, draws / 10)).toBeLessThan(46.43);
    expect(Array.from({ length: 100 }, () => below(source, 1))).toEqual(Array<number>(100).fill(0));
  });
});

/**
 * Bounds on a million normal deviates are 4.89 standard deviations of the figure that is bounded, which a perfect
 * generator would exceed once in a million seeds (two-sided normal tail; SciPy 1.17.1, norm.isf(5e-7) = 4.8916). The
 * seed is fixed, so the outcome is the same every time. The rarest tails, 32 deviates expected beyond 4 on one side, are
 * Poisson and a little heavier: 5 in a million (SciPy 1.17.1, poisson.sf). All 21 bounds together: one false alarm in
 * about 30,000 seeds.
 */
const ALARM = 4.8916;
const DRAWS = 1_000_000;

describe("normal deviates", () => {
  const source = stream("normal deviates", 0, "quay", "jitter");
  const deviates = Float64Array.from({ length: DRAWS }, () => normal(source));
  const moment = (power: number): number => deviates.reduce((sum, z) => sum + z ** power, 0) / DRAWS;

  // E z^k of the standard normal: 0, 1, 0, 3 for k = 1 … 4; the variance of z^k is (2k-1)!! - (E z^k)^2.
  test.each([
    ["mean", 1, 0, 1],
    ["variance", 2, 1, 2],
    ["third moment (skewness)", 3, 0, 15],
    ["fourth moment (kurtosis)", 4, 3, 96],
  ])("have the %s of the standard normal distribution", (_, power, expected, variance) => {
    expect(Math.abs(moment(power) - expected)).toBeLessThan(ALARM * Math.sqrt(variance / DRAWS));
  });

  test.each([
    // P(|z| > limit): SciPy 1.17.1, 2 * norm.sf(limit)
    [1, 0.31731050786291415],
    [2, 0.04550026389635839],
    [3, 0.0026997960632601866],
    // where the outermost layer ends and the tail is drawn by another method
    [3.442619855899, 0.0005761085123916392],
    [4, 0.00006334248366623973],
  ])("lie beyond ±%f as often as they should, on both sides", (limit, share) => {
    for (const [beyond, expected] of [
      [deviates.filter((z) => Math.abs(z) > limit).length, share],
      [deviates.filter((z) => z > limit).length, share / 2],
      [deviates.filter((z) => z < -limit).length, share / 2],
    ] as const) {
      expect(Math.abs(beyond - DRAWS * expected)).toBeLessThan(ALARM * Math.sqrt(DRAWS * expected * (1 - expected)));
    }
  });

  test("fill a hundred equally likely bins equally", () => {
    // Pearson's chi-square with 99 degrees of freedom lies in 44.70 … 183.69 but for one seed in a million
    // (SciPy 1.17.1, chi2.ppf and chi2.isf at 5e-7). Too even a filling would be a fault as well.
    const edges = Array.from({ length: 99 }, (_, i) => normalQuantile((i + 1) / 100));
    const counts = new Float64Array(100);
    for (const z of deviates) {
      let bin = 0;
      for (let half = 64; half > 0; half >>= 1) if (bin + half <= 99 && z >= edges[bin + half - 1]!) bin += half;
      counts[bin]!++;
    }
    const found = chiSquare(counts, DRAWS / 100);
    expect(found).toBeGreaterThan(44.7);
    expect(found).toBeLessThan(183.69);
  });

  test("do not follow from the one before", () => {
    let product = 0;
    for (let i = 1; i < DRAWS; i++) product += deviates[i - 1]! * deviates[i]!;
    expect(Math.abs(product / (DRAWS - 1))).toBeLessThan(ALARM / Math.sqrt(DRAWS));
  });

  test("the quantiles of this test are those of the normal distribution", () => {
    // SciPy 1.17.1, norm.ppf
    expect(normalQuantile(0.01)).toBeCloseTo(-2.3263478740408408, 12);
    expect(normalQuantile(0.1)).toBeCloseTo(-1.2815515655446004, 12);
    expect(normalQuantile(0.25)).toBeCloseTo(-0.6744897501960817, 12);
    expect(normalQuantile(0.5)).toBeCloseTo(0, 12);
    expect(normalQuantile(0.99)).toBeCloseTo(2.3263478740408408, 12);
  });
});

describe("deviates that are redrawn beyond a limit", () => {
  test("never leave the limit, and come close to it", () => {
    const source = stream("truncated", 0, "quay", "jitter");
    let largest = 0;
    for (let i = 0; i < DRAWS; i++) largest = Math.max(largest, Math.abs(truncatedNormal(source, 4)));
    expect(largest).toBeLessThanOrEqual(4);
    // a million draws of which none came beyond 3.9 would have a chance of exp(-1e6 * 3.3e-5)
    expect(largest).toBeGreaterThan(3.9);
  });

  test("are redrawn, not moved to the limit", () => {
    // Variance of the standard normal truncated at ±1: 1 - 2 phi(1) / (2 Phi(1) - 1), with phi(1) = 0.24197072451914337
    // and 2 Phi(1) - 1 = 0.6826894921370859. Were it clamped instead, 32 % of the draws would stand at the limit.
    const source = stream("truncated hard", 0, "quay", "jitter");
    const draws = 200_000;
    let squares = 0;
    let atLimit = 0;
    for (let i = 0; i < draws; i++) {
      const z = truncatedNormal(source, 1);
      squares += z * z;
      if (Math.abs(z) === 1) atLimit++;
    }
    const variance = 1 - (2 * 0.24197072451914337) / 0.6826894921370859;
    // z² lies in 0 … 1, so its variance is at most 1/4
    expect(Math.abs(squares / draws - variance)).toBeLessThan(ALARM * Math.sqrt(0.25 / draws));
    expect(atLimit).toBe(0);
  });

  test("take as many draws from the stream as it needs, and no more", () => {
    // layer 64, position 1/2: a deviate well inside; the stream hands out one integer for it
    let taken = 0;
    const counting: Stream = {
      int32: () => {
        taken++;
        return (2 ** 23 << 7) | 64;
      },
      uniform: () => {
        throw new Error("no second draw is needed here");
      },
    };
    expect(truncatedNormal(counting, 4)).toBeGreaterThan(0);
    expect(taken).toBe(1);
  });
});

function chiSquare(counts: Float64Array, expected: number): number {
  return counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
}

/** The z below which a share p of the standard normal distribution lies, by halving. */
function normalQuantile(p: number): number {
  let low = -10;
  let high = 10;
  for (let i = 0; i < 80; i++) {
    const middle = (low + high) / 2;
    if (normalShareBelow(middle) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** 1/2 + phi(z) (z + z³/3 + z⁵/15 + …), the series of G. Marsaglia, J. Stat. Software 11 (2004), no. 4 (from memory). */
function normalShareBelow(z: number): number {
  let term = z;
  let sum = z;
  for (let k = 3; Math.abs(term) > 1e-18; k += 2) {
    term *= (z * z) / k;
    sum += term;
  }
  return 0.5 + sum * Math.exp(-0.5 * z * z) * (1 / Math.sqrt(2 * Math.PI));
}
