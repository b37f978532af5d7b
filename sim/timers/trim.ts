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
  let low = 0;
  let high = track;
  // Halving an interval of doubles ends by itself: the middle becomes one of the ends
  for (;;) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) return { ohms: low, reach: "set" };
    if (stepSeconds(middle) > wanted) high = middle;
    else low = middle;
  }
}
