import { DAY, type Micros, SECOND } from "./time.js";

const CLOCK = /^(\d{1,2}):([0-5]\d)(?::([0-5]\d)(?:\.(\d{1,6}))?)?$/;

/** Days of the calendar, which begins on a Monday. */
export const WEEKDAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];

/** Reads a time of day such as "7:30", "10:00:30" or "24:00" in microseconds since midnight; null when it is none. */
export function parseClock(text: string): Micros | null {
  const match = CLOCK.exec(text.trim());
  if (match === null) return null;
  const [, hours = "0", minutes = "0", seconds = "0", fraction = ""] = match;
  const whole = (Number(hours) * 60 + Number(minutes)) * 60 + Number(seconds);
  const time = whole * SECOND + Number(fraction.padEnd(6, "0"));
  return time <= DAY ? time : null;
}

/**
 * Prints a time of day: "10:00", with seconds and their fraction only where there are any.
 * Throws a RangeError unless `us` is a whole number of microseconds from 0 to 24 hours.
 */
export function formatClock(us: Micros): string {
  if (!Number.isInteger(us) || us < 0 || us > DAY) throw new RangeError(`${us} µs is not a time of day`);
  const seconds = Math.floor(us / SECOND);
  const fraction = us % SECOND;
  const minutes = `${two(Math.floor(seconds / 3600))}:${two(Math.floor(seconds / 60) % 60)}`;
  if (seconds % 60 === 0 && fraction === 0) return minutes;
  const decimals = fraction === 0 ? "" : `.${String(fraction).padStart(6, "0").replace(/0+$/, "")}`;
  return `${minutes}:${two(seconds % 60)}${decimals}`;
}

function two(value: number): string {
  return String(value).padStart(2, "0");
}
