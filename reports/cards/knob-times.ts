import type { Span } from "../../sim/knob/index.js";
import { KNOB_TURN } from "../../sim/parts/preferred.js";
import { duration } from "../../sim/units/quantities.js";
import { plain, spokenDuration } from "../../sim/units/text.js";

/** Degrees over which the track changes: all of the scale, and what a share of the travel is a share of. */
export const TURN = KNOB_TURN.electrical.value;

/** Degrees that a knob turns from one stop to the other: 7 o'clock to 5 o'clock. */
export const STOP_TO_STOP = KNOB_TURN.mechanical.value;

/** Degrees at either stop in which the track does not change. */
export const SLACK = (STOP_TO_STOP - TURN) / 2;

/** Share of a time below which nobody wants to know it. */
const FINEST = 1e-6;

/** A step time rounded so that times `gap` seconds apart still read as different, but no finer than `finest` of it. */
export function timeText(seconds: number, gap: number, finest = FINEST): string {
  if (!(gap < 2 * spokenStep(seconds))) return spokenDuration(seconds);
  const unit = 10 ** Math.floor(Math.log10(Math.max(gap / 8, seconds * finest)));
  return duration.format(Number((Math.round(seconds / unit) * unit).toPrecision(12)));
}

/**
 * From one step time to another, told apart where they differ by more than `finest` of them (1: as times are spoken). A
 * timer that stalls has no longest.
 */
export function spanText({ from, to }: Span, finest = FINEST): string {
  if (!Number.isFinite(from)) return "never";
  if (!Number.isFinite(to)) return `${spokenDuration(from)} or more, or never`;
  const gap = to > from && finest < 1 ? to - from : Infinity;
  const [low, high] = [timeText(from, gap, finest), timeText(to, gap, finest)];
  return low === high ? low : `${low} to ${high}`;
}

/** How far a time may be off, in two digits: "0.6 s". */
export function errorText(seconds: number): string {
  if (seconds >= 60) return spokenDuration(seconds);
  return seconds < 0.01 ? spokenDuration(Number(seconds.toPrecision(2))) : `${plain(seconds, 2)} s`;
}

/** A round step time, exactly. */
export function roundText(seconds: number): string {
  return seconds >= 172_800 && seconds % 3600 === 0 ? spokenDuration(seconds) : duration.format(seconds);
}

/** A place of the knob in percent of its travel, over which the track changes. */
export function travelText(dial: number): string {
  return `${(dial * 100).toFixed(1)} %`;
}

/** A place of the knob in degrees from its low stop. */
export function turnText(dial: number): string {
  return `${Math.round(SLACK + dial * TURN)}°`;
}

/** What `spokenDuration` rounds to at this length, seconds. */
function spokenStep(seconds: number): number {
  if (seconds < 60) return 10 ** (Math.floor(Math.log10(seconds)) - 2);
  if (seconds < 3600) return 1;
  return seconds < 172_800 ? 60 : 3600;
}
