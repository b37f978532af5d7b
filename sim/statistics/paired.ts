import { studentBelow, studentQuantile } from "./distributions.js";

/** A mean difference over pairs, with its 95 % interval. */
export interface PairedDifference {
  readonly mean: number;
  readonly low: number;
  readonly high: number;
  /** Pairs of which both values are defined. */
  readonly pairs: number;
  /** How often chance alone, without any difference, brings one as large as this: 0 … 1. */
  readonly chance: number;
}

/** Shares of the largest value below which a difference is what rounding leaves. */
const ROUNDING = 1e-12;

/**
 * The mean of b − a over pairs with its interval by Student's t (W. S. Gosset, Biometrika 6 (1908) 1-25, from memory).
 * Pairs with a value that is not finite are left out; null when fewer than two remain.
 */
export function pairedDifference(a: ArrayLike<number>, b: ArrayLike<number>): PairedDifference | null {
  const differences: number[] = [];
  let largest = 0;
  for (let i = 0; i < a.length; i++) {
    if (!Number.isFinite(a[i]!) || !Number.isFinite(b[i]!)) continue;
    differences.push(b[i]! - a[i]!);
    largest = Math.max(largest, Math.abs(a[i]!), Math.abs(b[i]!));
  }
  const pairs = differences.length;
  if (pairs < 2) return null;
  const mean = differences.reduce((sum, difference) => sum + difference, 0) / pairs;
  const variance = differences.reduce((sum, difference) => sum + (difference - mean) ** 2, 0) / (pairs - 1);
  const error = Math.sqrt(variance / pairs);
  const half = studentQuantile(0.975, pairs - 1) * error + ROUNDING * largest;
  const beyond = Math.max(0, Math.abs(mean) - ROUNDING * largest);
  const chance = beyond === 0 ? 1 : 2 * studentBelow(-beyond / error, pairs - 1);
  return { mean, low: mean - half, high: mean + half, pairs, chance };
}
