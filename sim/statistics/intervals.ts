/** 0.975 quantile of the standard normal distribution. */
const Z95 = 1.959963984540054;

/** A share found in a sample, with its 95 % interval. */
export interface Proportion {
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

/**
 * A share of k in n with its Wilson score interval (without continuity correction): E. B. Wilson, J. Am. Stat. Assoc. 22
 * (1927) 209-212, from memory; recommended by R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872. `z` is the
 * normal quantile of the confidence, 95 % unless given. For n = 0 nothing is known: share 0, interval 0 … 1.
 */
export function wilson(k: number, n: number, z: number = Z95): Proportion {
  if (n === 0) return { share: 0, low: 0, high: 1 };
  const share = k / n;
  const centre = (k + (z * z) / 2) / (n + z * z);
  const half = (z * Math.sqrt((k * (n - k)) / n + (z * z) / 4)) / (n + z * z);
  // The ends are exactly 0 and 1 there; rounding would leave a trace
  return { share, low: k === 0 ? 0 : centre - half, high: k === n ? 1 : centre + half };
}
