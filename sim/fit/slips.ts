import { median } from "d3-array";
import type { Counted } from "./counts.js";
import type { Seconds } from "../units/time.js";

/** A row is taken for a slip when it is off by so many standard deviations of the others … */
const OUTLYING = 6;
/** … and by this share of a step … */
const LEAST_SHARE = 0.03;
/** … and by so many of the least differences that the log is written down with. */
const LEAST_GRAINS = 3;
/** At most this share of the rows can be slips; where there seem to be more, the log is merely noisy. */
const MOST = 0.1;
/** The standard deviation of normal errors over their median distance from the median. */
const PER_MEDIAN = 1.4826;

/** A row whose time is wrong, by so many seconds: late, or early where negative. */
export interface Slip {
  readonly row: number;
  readonly off: number;
}

/**
 * Rows of one board that were noted at a wrong time: the interval before such a row is longer or shorter than whole
 * steps, the one behind it makes up for that. Jitter does not do so, as it shifts all rows that follow.
 */
export function slipsIn(times: readonly number[], { intervals }: Counted, grain: number): Slip[] {
  const lengths = times.slice(1).map((time, i) => time - times[i]!);
  // the median is what it is whatever a few rows are
  const step = median(intervals, ({ seconds, steps }) => seconds / steps)!;
  const off = (seconds: Seconds): number => seconds - Math.round(seconds / step) * step;
  const noise = PER_MEDIAN * median(lengths, (length) => Math.abs(off(length)))!;
  const least = Math.max(OUTLYING * noise, LEAST_SHARE * step, LEAST_GRAINS * grain);
  const slips: Slip[] = [];
  for (let row = 1; row < times.length - 1; row++) {
    const before = off(lengths[row - 1]!);
    const both = off(lengths[row - 1]! + lengths[row]!);
    if (Math.abs(before) <= least || Math.abs(both) > least / 2 || slips.at(-1)?.row === row - 1) continue;
    slips.push({ row, off: before - both / 2 });
  }
  return slips.length <= Math.max(1, MOST * times.length) ? slips : [];
}
