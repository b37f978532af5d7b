/**
 * Distribution functions behind intervals. The incomplete gamma and beta functions are computed as continued fractions
 * and series by Lentz's method (W. H. Press et al., Numerical Recipes, 6.2 and 6.4, from memory). Packages with these
 * functions threw where a tail underflows, which long logs reach; medians and quantiles are those of d3-array.
 */

const TINY = 1e-300;
const EPSILON = 1e-15;
const TERMS = 10_000;

/** Probability that Student's t with `dof` degrees of freedom lies below x. */
export function studentBelow(x: number, dof: number): number {
  const tail = incompleteBeta(dof / (dof + x * x), dof / 2, 0.5) / 2;
  return x > 0 ? 1 - tail : tail;
}

/** The x below which Student's t lies with probability p, 0 < p < 1. */
export function studentQuantile(p: number, dof: number): number {
  return quantileOf((x) => studentBelow(x, dof), p, 0, 1);
}

/** Probability that chi-squared with `dof` degrees of freedom lies below x. */
export function chiSquaredBelow(x: number, dof: number): number {
  if (x <= 0) return 0;
  if (x === Infinity) return 1;
  return incompleteGamma(dof / 2, x / 2);
}

/**
 * Where a distribution function reaches p: widens the stretch `middle` ± `width` until it holds the place, then draws it
 * together by false position, halving the weight of an end that stays (the Illinois rule).
 */
export function quantileOf(below: (x: number) => number, p: number, middle: number, width: number): number {
  let low = { at: middle - width, off: below(middle - width) - p };
  let high = { at: middle + width, off: below(middle + width) - p };
  for (let reach = width; low.off > 0; reach *= 2) low = { at: low.at - reach, off: below(low.at - reach) - p };
  for (let reach = width; high.off < 0; reach *= 2) high = { at: high.at + reach, off: below(high.at + reach) - p };
  let x = middle;
  let side = 0;
  for (let i = 0; i < 200; i++) {
    const next = high.off === low.off ? (low.at + high.at) / 2 : low.at - (low.off * (high.at - low.at)) / (high.off - low.off);
    const near = Math.abs(next - x) <= 1e-13 * Math.max(Math.abs(low.at), Math.abs(high.at));
    x = next;
    const off = below(x) - p;
    if (near || off === 0) break;
    const end = { at: x, off };
    const now = Math.sign(off);
    if (now < 0) {
      if (now === side) high = { ...high, off: high.off / 2 };
      low = end;
    } else {
      if (now === side) low = { ...low, off: low.off / 2 };
      high = end;
    }
    side = now;
  }
  return x;
}

/** Regularised lower incomplete gamma function P(a, x). */
function incompleteGamma(a: number, x: number): number {
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < TERMS && term > sum * EPSILON; n++) {
      term *= x / (a + n);
      sum += term;
    }
    return front * sum;
  }
  let b = x + 1 - a;
  let c = 1 / TINY;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; n < TERMS; n++) {
    const numerator = -n * (n - a);
    b += 2;
    d = 1 / awayFromZero(numerator * d + b);
    c = awayFromZero(b + numerator / c);
    fraction *= d * c;
    if (Math.abs(d * c - 1) < EPSILON) break;
  }
  return 1 - front * fraction;
}

/** Regularised incomplete beta function I_x(a, b). */
function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front = Math.exp(a * Math.log(x) + b * Math.log1p(-x) - logBeta(a, b));
  let c = 1;
  let d = 1 / awayFromZero(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m < TERMS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / awayFromZero(1 + even * d);
    c = awayFromZero(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / awayFromZero(1 + odd * d);
    c = awayFromZero(1 + odd / c);
    fraction *= d * c;
    if (Math.abs(d * c - 1) < EPSILON) break;
  }
  return (front * fraction) / a;
}

function awayFromZero(value: number): number {
  return Math.abs(value) < TINY ? TINY : value;
}

/** The last one worked out: a distribution is asked for many places one after the other. */
let last = { a: NaN, b: NaN, value: NaN };

/** Logarithm of the beta function. */
function logBeta(a: number, b: number): number {
  if (a !== last.a || b !== last.b) last = { a, b, value: logGamma(a) + logGamma(b) - logGamma(a + b) };
  return last.value;
}

/** Coefficients of Stirling's series in 1/x. */
const STIRLING = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360_360, 1 / 156];

/** Logarithm of the gamma function for x > 0: Stirling's series, reached by the recurrence from small x. */
function logGamma(x: number): number {
  let shift = 0;
  let at = x;
  for (; at < 12; at++) shift += Math.log(at);
  const series = STIRLING.reduce((sum, coefficient, k) => sum + coefficient / at ** (2 * k + 1), 0);
  return (at - 0.5) * Math.log(at) - at + Math.log(2 * Math.PI) / 2 + series - shift;
}
