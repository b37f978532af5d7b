import type { Room } from "../model/scenario.js";
import type { Clockwork } from "./clockwork.js";
import type { Seconds } from "../units/time.js";

const DEGREE = 5;

/** Up to how much of a microsecond the curve may be off, that is how near to a half microsecond it is not trusted. */
export const DOUBT = 1e-3;

/** Sizes of the ellipse on which the bound is sought: the sum of its half axes, in swings of the room. */
const ELLIPSES = [8, 32, 128, 512, 2048];

/** What rounding may add, as a share of the largest value: some hundred times that of one operation. */
const ROUNDING = 2 ** -44;

/** Chebyshev points, the ends among them, every other one first: in this order differences stay exact. */
const POINTS = [0, 5, 2, 4, 1, 3].map((k) => Math.cos((Math.PI * k) / DEGREE));
const [X0, X1, X2, X3, X4] = POINTS as [number, number, number, number, number, number];

/**
 * A timer's period over the day as a polynomial of the cosine of the time of day, x: the temperature is mean + swing·x.
 * It goes through the formula's values at six Chebyshev points. Where |period| ≤ M for complex x in the ellipse with foci
 * ±1 and half axes adding up to ρ, it is nowhere off by more than 4·M·ρ^−n/(ρ − 1), n the degree (L. N. Trefethen,
 * Approximation Theory and Approximation Practice, theorem 8.2, from memory). M is that of {@link Clockwork.most} on the
 * disc around the ellipse.
 */
export class WarmCurve {
  private constructor(
    private readonly d0: number,
    private readonly d1: number,
    private readonly d2: number,
    private readonly d3: number,
    private readonly d4: number,
    private readonly d5: number,
  ) {}

  /** Null where no bound says that the curve is within {@link DOUBT} microseconds of the formula. */
  static of(works: Clockwork, { mean, swing }: Room): WarmCurve | null {
    const seconds = ELLIPSES.map((rho) => {
      const most = works.most(mean, (swing * (rho + 1 / rho)) / 2);
      return (4 * most * rho ** -DEGREE) / (rho - 1) + ROUNDING * most;
    });
    // not a number where there is no bound
    if (!seconds.some((off) => off * 1e6 < DOUBT)) return null;
    const values = POINTS.map((x) => works.period(mean + swing * x));
    return new WarmCurve(...(dividedDifferences(values) as [number, number, number, number, number, number]));
  }

  /** Seconds of a period that starts at this cosine of the time of day. */
  period(x: number): Seconds {
    const tail = this.d3 + (x - X3) * (this.d4 + (x - X4) * this.d5);
    return this.d0 + (x - X0) * (this.d1 + (x - X1) * (this.d2 + (x - X2) * tail));
  }
}

/** Newton's divided differences of values at {@link POINTS}. */
function dividedDifferences(values: readonly number[]): number[] {
  const found = [...values];
  for (let order = 1; order < found.length; order++) {
    for (let i = found.length - 1; i >= order; i--) found[i] = (found[i]! - found[i - 1]!) / (POINTS[i]! - POINTS[i - order]!);
  }
  return found;
}
