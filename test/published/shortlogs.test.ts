/**
 * Logs of two intervals, whose estimate has a closed form. Intervals of a and b, half their difference h, and r the share of
 * reading errors that neighbours have in common, (1 − share of jitter)/2: generalised least squares gives (a + b)/2 whatever r, with
 * one degree of freedom and the variance h²·(1 − r)/(1 + r); the restricted likelihood, |V|·(1ᵀV⁻¹1)·rss = 4h², does not depend on
 * r, so that every ratio of jitter to reading weighs what it weighs beforehand. One degree of freedom makes Student's t
 * Cauchy's distribution, and chi-squared the square of a normal deviate.
 */
import { describe, expect, test } from "vitest";
import { estimateTimer } from "../../sim/fit/estimate.js";
import type { Interval } from "../../sim/fit/counts.js";

/** Ratios of jitter to reading error from 0.003 to 100, evenly on a logarithmic scale, with the share of jitter that each is. */
const ratios = Array.from({ length: 84 }, (_, i) => 0.003 * (100 / 0.003) ** (i / 83));
const shareOf = (ratio: number): number => ratio ** 2 / (ratio ** 2 + 2);

/** The place at which a rising function comes to p. */
function placeOf(below: (x: number) => number, p: number, low: number, high: number): number {
  for (let i = 0; i < 200; i++) {
    const middle = (low + high) / 2;
    if (below(middle) < p) low = middle;
    else high = middle;
  }
  return low;
}

/** The mean over the ratios, each weighing its power `lean`. */
function mixed(lean: number, of: (share: number) => number): number {
  const all = ratios.reduce((sum, ratio) => sum + ratio ** lean, 0);
  return ratios.reduce((sum, ratio) => sum + (ratio ** lean / all) * of(shareOf(ratio)), 0);
}

/** Probability that a normal deviate lies within ± x, by Simpson's rule. */
function normalWithin(x: number): number {
  const [n, end] = [400, Math.min(x, 12)];
  const density = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
  let sum = density(0) + density(end);
  for (let i = 1; i < n; i++) sum += (i % 2 === 1 ? 4 : 2) * density((i * end) / n);
  return (2 * sum * end) / n / 3;
}

const intervals = (...seconds: number[]): Interval[] =>
  seconds.map((length, i) => ({ row: i + 1, from: seconds.slice(0, i).reduce((sum, one) => sum + one, 0), seconds: length, steps: 1 }));

describe("two intervals of 99.5 s and 100.5 s", () => {
  const half = 0.5;
  const found = estimateTimer(intervals(99.5, 100.5), 0);

  test("the step lies about their mean, by Cauchy's distribution", () => {
    const width = (share: number): number => half * Math.sqrt((1 - (1 - share) / 2) / (1 + (1 - share) / 2));
    const reach = placeOf((x) => mixed(0.5, (share) => 0.5 + Math.atan(x / width(share)) / Math.PI), 0.975, 0, 1000);
    expect(found.step.value).toBeCloseTo(100, 9);
    expect((found.step.high - 100) / reach).toBeCloseTo(1, 6);
    expect((100 - found.step.low) / reach).toBeCloseTo(1, 6);
  });

  test("the jitter is what a normal deviate makes of their difference", () => {
    // residuals ± h: their sum of squares in units of the noise is 2h²/(1 + r)
    const squares = (share: number): number => (2 * half * half) / (1 + (1 - share) / 2);
    const jitterAt = (lean: number, p: number): number =>
      Math.exp(placeOf((x) => mixed(lean, (share) => 1 - normalWithin(Math.sqrt((squares(share) * share) / Math.exp(2 * x)))), p, -30, 30));
    expect(found.jitter.value / jitterAt(0, 0.5)).toBeCloseTo(1, 5);
    expect(found.jitter.high / jitterAt(0.5, 0.975)).toBeCloseTo(1, 5);
    // so short a log tells no jitter from reading errors
    expect(found.jitter.low).toBe(0);
  });
});

test("a drift is looked for from eight intervals on", () => {
  const noisy = [100.1, 99.8, 100.2, 100.3, 99.9, 100, 100.4, 99.7];
  expect(estimateTimer(intervals(...noisy), 0.1).drift).not.toBeNull();
  expect(estimateTimer(intervals(...noisy.slice(1)), 0.1).drift).toBeNull();
});
