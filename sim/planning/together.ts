/**
 * How much of the time boards show together what they showed before, once they come round again.
 *
 * A board with equal steps of s seconds that comes back x seconds early or late is at the same step as before for a
 * share max(0, 1 − x/s) of the time. Two boards with clocks of their own are both back for the product of their
 * shares. So when the second comes round d seconds after the first, a visitor who returns u seconds after the first
 * board's round meets both at their former steps for (1 − u/a)·(1 − (d − u)/b) of the time. The two factors' sum of
 * a − u and b − d + u is fixed, so the product is largest where these are equal, ((a + b − d)/2)²/(a·b), or at the
 * round of the board with the longer step while d < |a − b|. Where steps are held for different times, a and b are the
 * mean steps and the shares a lower bound.
 */

/** The largest share of time for which both boards are back, steps of `a` and `b` seconds, rounds `apart` seconds apart. */
export function togetherShare(a: number, b: number, apart: number): number {
  if (apart >= a + b) return 0;
  if (apart < Math.abs(a - b)) return 1 - apart / Math.max(a, b);
  return (a + b - apart) ** 2 / 4 / (a * b);
}

/**
 * How far apart (seconds) the rounds must be for {@link togetherShare} to fall to 1/4, the least that is called an
 * echo: a + b − √(a·b). For equal steps that is one step, otherwise something between √(a·b) and the longer step.
 */
export function apartToVanish(a: number, b: number): number {
  return a + b - Math.sqrt(a * b);
}

/** Step times of one board, in seconds, from which on a common return is no echo: `atMost` or less, `atLeast` or more. */
export interface StepRange {
  readonly atMost: number;
  readonly atLeast: number;
}

/**
 * To what the step of a board must change so that its return after `units` steps lies far enough from that of another
 * board, with steps of `otherStep` seconds, after `otherRound` seconds. The condition units·s − otherRound = ±(s + b −
 * √(s·b)) is a quadratic equation in √s.
 */
export function stepsApart(units: number, otherStep: number, otherRound: number): StepRange {
  const root = Math.sqrt(otherStep);
  const below = (root + Math.sqrt(otherStep + 4 * (units + 1) * (otherRound - otherStep))) / (2 * (units + 1));
  const above = (Math.sqrt(otherStep + 4 * (units - 1) * (otherRound + otherStep)) - root) / (2 * (units - 1));
  return { atMost: below ** 2, atLeast: above ** 2 };
}
