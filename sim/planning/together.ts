/**
 * How much of the time boards show together what they showed before, once they come round again.
 *
 * A board with equal steps of s seconds that comes back x seconds early or late is at the same step as before for a
 * share max(0, 1 − x/s) of the time. Two boards with clocks of their own are both back for the product of their
 * shares. So when the second comes round d seconds after the first, a visitor who returns u seconds after the first
 * board's round meets both at their former steps for (1 − u/a)·(1 − (d − u)/b) of the time. The sum of a − u and
 * b − d + u is fixed, so the product is largest where these are equal, ((a + b − d)/2)²/(a·b); but while d < |a − b|
 * that is not between the two rounds, and it is largest at the round of the board with the shorter step. Where steps
 * are held for different times, a and b are the mean steps and the shares a lower bound.
 */

/** The largest share of time for which both boards are back, steps of `a` and `b` seconds, rounds `apart` seconds apart. */
export function togetherShare(a: number, b: number, apart: number): number {
  if (apart >= a + b) return 0;
  if (apart < Math.abs(a - b)) return 1 - apart / Math.max(a, b);
  return (a + b - apart) ** 2 / 4 / (a * b);
}

/** From this ratio of steps on, rounds that are far enough apart are so while the longer step covers the shorter. */
const MUCH_LONGER = 4;

/**
 * How far apart (seconds) the rounds must be for {@link togetherShare} to fall to 1/4, the least that is called an
 * echo: a + b − √(a·b). For equal steps that is one step, otherwise less than the longer; it falls to 3/4 of the longer
 * step when that is four times the shorter, and stays there.
 */
export function apartToVanish(a: number, b: number): number {
  const longer = Math.max(a, b);
  return longer > MUCH_LONGER * Math.min(a, b) ? 0.75 * longer : a + b - Math.sqrt(a * b);
}

/** Step times of one board, in seconds, from which on a common return is no echo: `atMost` or less, `atLeast` or more. */
export interface StepRange {
  readonly atMost: number;
  readonly atLeast: number;
}

/**
 * To what the step of a board must change so that its return after `units` steps lies far enough from that of another
 * board, with steps of `otherStep` seconds, after `otherRound` seconds. Needs two steps or more on either board.
 */
export function stepsApart(units: number, otherStep: number, otherRound: number): StepRange {
  return { atMost: stepAt(units, otherStep, otherRound, 1), atLeast: stepAt(units, otherStep, otherRound, -1) };
}

/** The step s for which units·s + sign·apartToVanish(s, b) is `round`; the left side grows with s. */
function stepAt(units: number, b: number, round: number, sign: 1 | -1): number {
  const roundAt = (s: number): number => units * s + sign * apartToVanish(s, b);
  if (round < roundAt(b / MUCH_LONGER)) return (round - sign * 0.75 * b) / units;
  if (round > roundAt(b * MUCH_LONGER)) return round / (units + sign * 0.75);
  // In between, a quadratic equation in √s
  const factor = units + sign;
  return ((sign * Math.sqrt(b) + Math.sqrt(b + 4 * factor * (round - sign * b))) / (2 * factor)) ** 2;
}
