/**
 * Continued fractions: a number as a0 + 1/(a1 + 1/(a2 + …)) with whole quotients. Their convergents are the best
 * approximations by small whole numbers: the n-th is nearer than 1/(q_n·q_{n+1}), and from the second on nearer than
 * any fraction with a smaller denominator (Khinchin, Continued Fractions, chapter 1, from memory).
 */

/** The fraction p/q in lowest terms. */
export interface Fraction {
  readonly p: number;
  readonly q: number;
}

export interface ContinuedOptions {
  /** Most quotients; default 20. */
  readonly depth?: number;
  /** Stop at the first convergent with a relative error not above this; default 0: when doubles show no difference. */
  readonly precision?: number;
}

export interface ContinuedFraction {
  readonly quotients: readonly number[];
  /** One for each quotient, below and above the number in turn. */
  readonly convergents: readonly Fraction[];
}

/**
 * The continued fraction of a / b, both positive. Euclid's algorithm on the numbers as they are: whole numbers give
 * their exact ratio, and so do other doubles, since remainders of doubles are exact too. Ends before a convergent's
 * numbers would no longer be exact. Throws a RangeError unless both are positive and finite.
 */
export function continuedFraction(a: number, b = 1, { depth = 20, precision = 0 }: ContinuedOptions = {}): ContinuedFraction {
  if (!(a > 0 && b > 0 && a < Infinity && b < Infinity)) throw new RangeError(`no continued fraction of ${a} / ${b}: two positive ` +
    "numbers are needed");
  const quotients: number[] = [];
  const convergents: Fraction[] = [];
  let last: Fraction = { p: 1, q: 0 };
  let beforeLast: Fraction = { p: 0, q: 1 };
  let large = a;
  let small = b;
  while (small > 0 && quotients.length < depth) {
    const rest = large % small;
    const quotient = Math.round((large - rest) / small);
    const next = { p: quotient * last.p + beforeLast.p, q: quotient * last.q + beforeLast.q };
    if (!Number.isSafeInteger(next.p) || !Number.isSafeInteger(next.q)) break;
    quotients.push(quotient);
    convergents.push(next);
    if (Math.abs((next.p * b) / (next.q * a) - 1) <= precision) break;
    [beforeLast, last] = [last, next];
    [large, small] = [small, rest];
  }
  return { quotients, convergents };
}
