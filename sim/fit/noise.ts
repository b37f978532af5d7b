import type { Interval } from "./counts.js";

/**
 * The two noises of a stopwatch log. Jitter lengthens or shortens each step for good, so that it adds up from change
 * to change; the observer's reaction and the rounding of what is written down move one row alone, and so lengthen one
 * interval by as much as they shorten the next. With J and r their standard deviations, an interval of n steps has the
 * variance n·J² + 2·r², and neighbours have the covariance −r².
 *
 * In units of J² + 2·r², the variance of an interval of one step, only the share of the jitter in it remains: `jitter`,
 * from 0 (all is reading) to 1. The matrix is tridiagonal, so that its Cholesky factor has two diagonals.
 */
export class Noise {
  private readonly diagonal: Float64Array;
  private readonly beside: Float64Array;
  /** Logarithm of the determinant of the covariance matrix. */
  readonly logDet: number;

  constructor(intervals: readonly Pick<Interval, "row" | "steps">[], jitter: number) {
    const reading = 1 - jitter;
    this.diagonal = new Float64Array(intervals.length);
    this.beside = new Float64Array(intervals.length);
    let logDet = 0;
    intervals.forEach(({ row, steps }, i) => {
      const shared = i > 0 && intervals[i - 1]!.row === row - 1;
      const beside = shared ? -reading / 2 / this.diagonal[i - 1]! : 0;
      const diagonal = Math.sqrt(steps * jitter + reading - beside * beside);
      this.diagonal[i] = diagonal;
      this.beside[i] = beside;
      logDet += 2 * Math.log(diagonal);
    });
    this.logDet = logDet;
  }

  /** The values as combinations whose errors are independent and alike. */
  whiten(values: Float64Array): Float64Array {
    const white = new Float64Array(values.length);
    let before = 0;
    for (let i = 0; i < values.length; i++) {
      before = (values[i]! - this.beside[i]! * before) / this.diagonal[i]!;
      white[i] = before;
    }
    return white;
  }
}
