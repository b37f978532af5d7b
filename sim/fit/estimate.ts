import type { Interval } from "./counts.js";
import { chiSquaredBelow, quantileOf, studentBelow } from "../statistics/distributions.js";
import { leastSquares, type LeastSquares } from "./leastsquares.js";
import { Noise } from "./noise.js";

/** A value with its 95 % interval. */
export interface Estimate {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** What the intervals of one board tell about its timer. */
export interface TimerEstimate {
  /** Step time at the middle of the log, seconds. */
  readonly step: Estimate;
  /** Standard deviation of one step, seconds; `low` is 0 where the rows may be all reading error. */
  readonly jitter: Estimate;
  /** Standard deviation of one reading, seconds. */
  readonly reading: number;
  /** Relative growth of the step per hour; null in a log too short to tell. */
  readonly drift: Estimate | null;
}

/** Intervals from which on a drift is looked for. */
const DRIFT_FROM = 8;
/** Ratios of jitter to reading error that are weighed against each other; those that hardly count are dropped. */
const RATIOS = 84;
/** Their range; each of them counts alike on a logarithmic scale … */
const LEAST = 0.003;
const MOST = 100;
/**
 * … but for step and drift the larger ones a little more. Noise that is all jitter, which makes the widest interval,
 * looks in some short logs like reading error; found with made-up logs, so that 95 % hold from five rows on.
 */
const LEAN = 0.5;
/** Twice the logarithm of a likelihood ratio from which on two models are told apart: the 95 % point of chi-squared. */
const TELLING = 3.841;

/**
 * Estimates step, jitter and drift from the intervals of a log. How much of the noise is jitter and how much reading is
 * not known beforehand; so every ratio is weighed by its restricted likelihood (H. D. Patterson and R. Thompson,
 * Biometrika 58 (1971) 545-554, from memory), and each estimate is the mixture over them: given the ratio, generalised
 * least squares gives Student's t for step and drift, and chi-squared for the variance. That keeps intervals honest in
 * short logs, where putting in one guessed ratio would make them too narrow.
 *
 * `grain`: the least difference that times of the log are written down with, seconds. Needs two intervals.
 */
export function estimateTimer(intervals: readonly Interval[], grain: number): TimerEstimate {
  const drifting = intervals.length >= DRIFT_FROM;
  const centre = centreOf(intervals);
  const seconds = Float64Array.from(intervals, (interval) => interval.seconds);
  const steps = Float64Array.from(intervals, (interval) => interval.steps);
  const hours = Float64Array.from(intervals, (interval) => (interval.steps * (middleOf(interval) - centre)) / 3600);
  const columns = drifting ? [steps, hours] : [steps];
  const ratios = Array.from({ length: RATIOS }, (_, i) => LEAST * (MOST / LEAST) ** (i / (RATIOS - 1)));
  const fits = ratios.map((ratio) => fitAt(intervals, columns, seconds, ratio, grain));
  const leaning = weighed(fits, LEAN);
  const even = weighed(fits, 0);
  const coefficient = (k: number): Estimate => {
    const middle = mixture(leaning, ({ squares }) => squares.beta[k]!);
    const width = mixture(leaning, (fit) => spreadOf(fit, k));
    const below = (x: number): number =>
      mixture(leaning, (fit) => studentBelow((x - fit.squares.beta[k]!) / spreadOf(fit, k), fit.squares.dof));
    return estimateFrom(below, middle, width);
  };
  const step = coefficient(0);
  const variance = mixture(even, (fit) => fit.variance);
  const jitterAt = (weights: readonly Weighed[], p: number): number => {
    const below = (x: number): number =>
      mixture(weights, (fit) => 1 - chiSquaredBelow((fit.squares.dof * fit.variance * fit.share) / (x * x), fit.squares.dof));
    return positive(below, p, Math.sqrt(variance));
  };
  // each end by the weights that are cautious there: where both noises matter, even ones leave out the truth too often
  const jitter = { value: jitterAt(even, 0.5), low: jitterAt(weighed(fits, -LEAN), 0.025), high: jitterAt(leaning, 0.975) };
  const readingAlone = fitAt(intervals, columns, seconds, 0, grain).logLikelihood;
  const telling = 2 * (Math.max(...fits.map(({ logLikelihood }) => logLikelihood)) - readingAlone) > TELLING;
  const drift = drifting ? coefficient(1) : null;
  return {
    step,
    jitter: telling ? jitter : { ...jitter, low: 0 },
    reading: Math.sqrt(mixture(even, (fit) => (fit.variance * (1 - fit.share)) / 2)),
    drift: drift && { value: drift.value / step.value, low: drift.low / step.value, high: drift.high / step.value },
  };
}

interface Fit {
  /** Of jitter to reading error. */
  readonly ratio: number;
  /** Share of the jitter in the variance of an interval of one step. */
  readonly share: number;
  readonly squares: LeastSquares;
  /** Of an interval of one step. */
  readonly variance: number;
  readonly logLikelihood: number;
}

function fitAt(
  intervals: readonly Interval[],
  columns: readonly Float64Array[],
  seconds: Float64Array,
  ratio: number,
  grain: number,
): Fit {
  const share = ratio === 0 ? 0 : 1 / (1 + 2 / ratio ** 2);
  const noise = new Noise(intervals, share);
  const squares = leastSquares(columns.map((column) => noise.whiten(column)), noise.whiten(seconds));
  // times that are written to whole seconds cannot agree better than that, even where they happen to
  const rss = Math.max(squares.rss, (squares.dof * grain * grain) / 6);
  return {
    ratio,
    share,
    squares,
    variance: rss / squares.dof,
    logLikelihood: -(noise.logDet + squares.logDet + squares.dof * Math.log(rss)) / 2,
  };
}

function spreadOf({ squares, variance }: Fit, k: number): number {
  return Math.sqrt(variance * squares.unscaled[k]!);
}

interface Weighed {
  readonly fit: Fit;
  readonly weight: number;
}

/** The fits with their weights, which add up to 1: the likelihood, times the ratio of jitter to reading to the power `lean`. */
function weighed(fits: readonly Fit[], lean: number): Weighed[] {
  const highest = Math.max(...fits.map(({ logLikelihood }) => logLikelihood));
  const raw = fits.map((fit) => ({ fit, weight: Math.exp(fit.logLikelihood - highest) * fit.ratio ** lean }));
  const most = Math.max(...raw.map(({ weight }) => weight));
  const counting = raw.filter(({ weight }) => weight > 1e-6 * most);
  const total = counting.reduce((sum, { weight }) => sum + weight, 0);
  return counting.map(({ fit, weight }) => ({ fit, weight: weight / total }));
}

function mixture(fits: readonly Weighed[], part: (fit: Fit) => number): number {
  return fits.reduce((sum, { weight, fit }) => sum + weight * part(fit), 0);
}

function estimateFrom(below: (x: number) => number, middle: number, width: number): Estimate {
  const at = (p: number): number => quantileOf(below, p, middle, width);
  return { value: at(0.5), low: at(0.025), high: at(0.975) };
}

/** A quantile of something positive, looked for on a logarithmic scale. */
function positive(below: (x: number) => number, p: number, near: number): number {
  return Math.exp(quantileOf((x) => below(Math.exp(x)), p, Math.log(near), 1));
}

/** Mean moment of the log, each step counted alike. */
function centreOf(intervals: readonly Interval[]): number {
  const steps = intervals.reduce((sum, interval) => sum + interval.steps, 0);
  return intervals.reduce((sum, interval) => sum + interval.steps * middleOf(interval), 0) / steps;
}

function middleOf({ from, seconds }: Interval): number {
  return from + seconds / 2;
}
