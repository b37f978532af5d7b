import { bisected } from "../statistics/bisection.js";

/** Outcome of turning a knob until a stopwatch shows the wanted step time. */
export type Reach = "set" | "too-short" | "too-long";

/**
 * Resistance between 0 and `track` ohms at which `stepSeconds` (rising in its argument) shows `wanted`. Where the
 * track ends first, the end of it, with `too-long` when even the least resistance gives a longer step than wanted,
 * `too-short` when the whole track gives a shorter one.
 */
export function trim(
  track: number,
  wanted: number,
  stepSeconds: (ohms: number) => number,
): { ohms: number; reach: Reach } {
  if (stepSeconds(0) > wanted) return { ohms: 0, reach: "too-long" };
  if (stepSeconds(track) < wanted) return { ohms: track, reach: "too-short" };
  return { ohms: bisected((ohms) => stepSeconds(ohms) <= wanted, 0, track).last, reach: "set" };
}
