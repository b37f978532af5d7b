import { parseClock } from "../../sim/units/clock.js";
import { clockText } from "./momenttext.js";
import type { Moment } from "./moments.js";
import { SECOND, toMicros, toSeconds } from "../../sim/units/time.js";

/** The moment that a link's `#t=…` names: a clock time or seconds since midnight, and `&opening=` with a number from 1; null: none. */
export function momentInLink(hash: string): Moment | null {
  const parts = new URLSearchParams(hash.replace(/^#/, ""));
  const text = parts.get("t");
  if (text === null) return null;
  const time = /^\d+(\.\d+)?$/.test(text) ? toMicros(Number(text)) : parseClock(text);
  const opening = Number(parts.get("opening") ?? 1);
  return time === null || !Number.isInteger(opening) || opening < 1 ? null : { opening: opening - 1, time };
}

/** The link to a moment: exact where it is a whole second. */
export function linkTo({ opening, time }: Moment): string {
  const at = time % SECOND === 0 ? clockText(time) : String(toSeconds(time));
  return `#t=${at}&opening=${opening + 1}`;
}
