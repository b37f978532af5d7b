import { formatClock } from "../units/clock.js";
import { DAY, type Micros, SECOND, toSeconds } from "../units/time.js";

/** A calendar instant (µs) in words: "day 3 at 10:15:20"; days count from the first Monday, fractions of a second are left out. */
export function instantText(at: Micros): string {
  const day = Math.floor(at / DAY);
  const seconds = Math.floor(toSeconds(at - day * DAY));
  return `day ${day + 1} at ${formatClock(seconds * SECOND)}`;
}
