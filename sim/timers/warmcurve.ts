import type { Room } from "../model/scenario.js";
import { DAY, type Micros, SECOND } from "../units/time.js";
import type { Clockwork } from "./clockwork.js";
import { temperature } from "./room.js";

const DEGREE = 5;

/** The day is cut into half hours, each of which has a polynomial of its own. */
const PIECES = 48;
const PIECE = DAY / PIECES;
/** Half a piece as an angle of the day. */
const HALF = Math.PI / PIECES;

/** Up to how much of a microsecond the curve may be off, that is how near to a half microsecond it is not trusted. */
export const DOUBT = 1e-3;

/** Sizes of the ellipse on which the bound is sought: the sum of its half axes, in halves of a piece. */
const ELLIPSES = [32, 64, 96, 128, 160, 192, 224];

/** What rounding may add, as a share of the largest value: some hundred times that of one operation. */
const ROUNDING = 2 ** -44;

/**
 * How far, in halves of a piece, rounding may move the time of day in the formula: its angle is 2π a day since the first Monday, in
 * three operations, for 300 years at most.
 */
const ASTRAY = (300 * 366 * 2 * Math.PI * 3 * 2 ** -53) / HALF;

/** Chebyshev points. */
const POINTS = Array.from({ length: DEGREE + 1 }, (_, k) => Math.cos((Math.PI * k) / DEGREE));
/** What the value at each point adds to each coefficient, coefficient by coefficient. */
const WEIGHTS = POINTS.flatMap((_, power) => POINTS.map((__, k) => lagrange(k)[power]!));

/**
 * A timer's period over the day as polynomials of time, one for each half hour. Each goes through the formula's values at
 * six Chebyshev points. Where |period| ≤ M at complex times in the ellipse with the ends of the half hour as foci and half
 * axes adding up to ρ (in quarters of an hour), it is nowhere off by more than 4·M·ρ^−n/(ρ − 1), n the degree (L. N. Trefethen,
 * Approximation Theory and Approximation Practice, theorem 8.2, from memory). The temperature there is mean + swing·cos(a + ib),
 * |cos(a + ib)| ≤ cosh b, and M is that of {@link Clockwork.most} on the disc of these temperatures.
 */
export class WarmCurve {
  /** The half hour that was last asked for, and its middle. */
  private from: Micros = 0;
  private until: Micros = 0;
  private middle: Micros = 0;
  private c0 = 0.5;
  private c1 = 0.5;
  private c2 = 0.5;
  private c3 = 0.5;
  private c4 = 0.5;
  private c5 = 0.5;
  /** Coefficients of all half hours, as far as they were asked for. */
  private readonly made = new Uint8Array(PIECES);
  private readonly coefficients = new Float64Array(PIECES * (DEGREE + 1));

  private constructor(
    private readonly works: Clockwork,
    private readonly room: Room,
  ) {}

  /** Null where no bound says that the curve is within {@link DOUBT} microseconds of the formula. */
  static of(works: Clockwork, room: Room): WarmCurve | null {
    const near = ELLIPSES.some((rho) => {
      const most = works.most(room.mean, room.swing * Math.cosh((HALF * (rho - 1 / rho)) / 2)) * SECOND;
      // not a number where there is no bound
      return (4 * most * rho ** -DEGREE) / (rho - 1) + ROUNDING * most < DOUBT / 2;
    });
    return near ? new WarmCurve(works, room) : null;
  }

  /** Microseconds of a period that starts at t; not a number where rounding of the time of day would make too much of a difference. */
  period(t: Micros): number {
    if (t >= this.until || t < this.from) this.turnTo(t);
    const u = (t - this.middle) * (2 / PIECE);
    const square = u * u;
    return this.c0 + this.c1 * u + square * (this.c2 + this.c3 * u + square * (this.c4 + this.c5 * u));
  }

  private turnTo(t: Micros): void {
    const day = Math.floor(t / DAY) * DAY;
    const piece = Math.floor((t - day) / PIECE);
    this.from = day + piece * PIECE;
    this.until = this.from + PIECE;
    this.middle = this.from + PIECE / 2;
    const at = piece * (DEGREE + 1);
    if (this.made[piece] === 0) this.make(piece, at);
    const { coefficients } = this;
    this.c0 = coefficients[at]!;
    this.c1 = coefficients[at + 1]!;
    this.c2 = coefficients[at + 2]!;
    this.c3 = coefficients[at + 3]!;
    this.c4 = coefficients[at + 4]!;
    this.c5 = coefficients[at + 5]!;
  }

  private make(piece: number, at: number): void {
    const { coefficients, works, room } = this;
    this.made[piece] = 1;
    const values = POINTS.map((u) => works.period(temperature(room, (piece + 0.5 + u / 2) * PIECE)) * SECOND);
    let slope = 0;
    for (let power = 0; power <= DEGREE; power++) {
      let sum = 0;
      for (let k = 0; k <= DEGREE; k++) sum += WEIGHTS[power * (DEGREE + 1) + k]! * values[k]!;
      coefficients[at + power] = sum;
      slope += power * Math.abs(sum);
    }
    // the formula is moved, and with it what the curve is held against
    if (!(2 * slope * ASTRAY < DOUBT / 2)) coefficients[at] = NaN;
  }
}

/** Coefficients of the polynomial that is 1 at the k-th of the points and 0 at the others. */
function lagrange(k: number): number[] {
  return POINTS.reduce<number[]>(
    (product, point, j) => {
      if (j === k) return product;
      const scale = 1 / (POINTS[k]! - point);
      return Array.from({ length: product.length + 1 }, (_, i) => ((product[i - 1] ?? 0) - (product[i] ?? 0) * point) * scale);
    },
    [1],
  );
}
