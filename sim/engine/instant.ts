import type { Opening } from "../model/scenario.js";
import { formatClock, WEEKDAYS } from "../units/clock.js";
import { DAY, type Micros, SECOND, toSeconds } from "../units/time.js";

/**
 * A moment of open time (µs since the first Monday) in words: "opening 3 (Thu) at 10:15:20", by the openings as a report
 * counts them; fractions of a second are left out.
 */
export function instantText(at: Micros, { days }: Opening): string {
  const day = Math.floor(at / DAY);
  const weekday = day % 7;
  const opening = Math.floor(day / 7) * days.length + days.filter((one) => one <= weekday).length;
  const seconds = Math.floor(toSeconds(at - day * DAY));
  return `opening ${opening} (${WEEKDAYS[weekday]!}) at ${formatClock(seconds * SECOND)}`;
}
