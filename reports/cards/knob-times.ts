import type { Span } from "../../sim/knob/index.js";
import { duration } from "../../sim/units/quantities.js";
import { plain, spokenDuration } from "../../sim/units/text.js";

/** Degrees that a knob turns from one stop to the other: 7 o'clock to 5 o'clock (common practice, no source). */
export const TURN = 300;

/** A step time rounded so that times `gap` seconds apart still read as different, and no finer than a reader wants. */
export function timeText(seconds: number, gap: number): string {
  if (!(gap < 2 * spokenStep(seconds))) return spokenDuration(seconds);
  const unit = 10 ** Math.floor(Math.log10(Math.max(gap / 8, seconds * 1e-6)));
  return duration.format(Number((Math.round(seconds / unit) * unit).toPrecision(12)));
}

/** From one step time to another, told apart where they differ. A timer that stalls has no longest. */
export function spanText({ from, to }: Span, gap = to - from): string {
  if (!Number.isFinite(from)) return "never clocks";
  const near = gap > 0 ? gap : Infinity;
  if (!Number.isFinite(to)) return `${timeText(from, near)} or more, or it never clocks`;
  const [low, high] = [timeText(from, near), timeText(to, near)];
  return low === high ? low : `${low} to ${high}`;
}

/** How far a time may be off, in two digits: "0.6 s". */
export function errorText(seconds: number): string {
  return seconds < 60 ? `${plain(seconds, 2)} s` : spokenDuration(seconds);
}

/** A place of the knob in percent of its travel. */
export function travelText(dial: number): string {
  return `${(dial * 100).toFixed(1)} %`;
}

/** A place of the knob in degrees from its low stop. */
export function turnText(dial: number): string {
  return `${Math.round(dial * TURN)}°`;
}

/** What `spokenDuration` rounds to at this length, seconds. */
function spokenStep(seconds: number): number {
  if (seconds < 60) return 10 ** (Math.floor(Math.log10(seconds)) - 2);
  if (seconds < 3600) return 1;
  return seconds < 172_800 ? 60 : 3600;
}
