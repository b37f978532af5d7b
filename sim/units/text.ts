import type { Seconds } from "./time.js";

/**
 * Numbers for prose: rounded, easy to read, not meant to be read back.
 * For exact text see `Quantity.format`.
 */

/**
 * A number with at most `digits` significant digits (1 to 100), without an exponent from 1e-6 up to 1e21.
 * Infinity prints as "∞"; NaN is a RangeError.
 */
export function plain(value: number, digits: number): string {
  if (Number.isNaN(value)) throw new RangeError("NaN cannot be printed as a number");
  if (!Number.isFinite(value)) return value > 0 ? "∞" : "-∞";
  return String(Number(value.toPrecision(digits)) + 0);
}

/**
 * A share in percent: "2.3 %", "0.04 %". What is not nothing never prints as "0 %" and what is
 * not the whole never as "100 %": tiny shares print as "< 0.01 %", nearly all as "> 99.9 %".
 */
export function percent(share: number): string {
  if (!Number.isFinite(share)) return `${plain(share, 1)} %`;
  const size = Math.abs(share) * 100;
  const sign = share < 0 ? "-" : "";
  if (size === 0) return "0 %";
  if (size < 0.01) return share > 0 ? "< 0.01 %" : "> -0.01 %";
  const rounded = Number(size.toFixed(size < 1 ? 2 : 1));
  if (share > 0 && share < 1 && rounded === 100) return "> 99.9 %";
  return `${sign}${rounded} %`;
}

/** A duration, rounded to what matters at its length: "250 ms", "12.4 s", "3 min 20 s", "1 h 5 min", "3 d 4 h". */
export function spokenDuration(seconds: Seconds): string {
  if (seconds < 0) return `-${spokenDuration(Math.abs(seconds))}`;
  const short = Number(seconds.toPrecision(3));
  if (!Number.isFinite(short)) return `${plain(short, 1)} s`;
  if (short > 0 && short < 1e-3) return `${plain(seconds * 1e6, 3)} µs`;
  if (short > 0 && short < 1) return `${plain(seconds * 1e3, 3)} ms`;
  if (short < 60) return `${short} s`;
  const whole = Math.round(seconds);
  if (whole < 3600) return twoTerms(whole, 60, "min", "s");
  const minutes = Math.round(seconds / 60);
  if (minutes < 48 * 60) return twoTerms(minutes, 60, "h", "min");
  return twoTerms(Math.round(seconds / 3600), 24, "d", "h");
}

/** A time of which every second counts: "1 h 20 min 30 s", where {@link spokenDuration} would say "1 h 21 min". */
export function toTheSecond(seconds: Seconds): string {
  const whole = Math.round(seconds);
  if (whole < 3600 || whole % 60 === 0) return spokenDuration(whole);
  return `${Math.floor(whole / 3600)} h ${Math.floor((whole % 3600) / 60)} min ${whole % 60} s`;
}

function twoTerms(count: number, perLarge: number, large: string, small: string): string {
  const first = `${Math.floor(count / perLarge)} ${large}`;
  return count % perLarge === 0 ? first : `${first} ${count % perLarge} ${small}`;
}

/** The items of a list, or, where there are more than `most`, the first `told` of them and "5 more" for the others. */
export function upTo(items: readonly string[], most: number, told = most): readonly string[] {
  return items.length <= most ? items : [...items.slice(0, told), `${items.length - told} more`];
}

/** "a, b and c", or "a, b or c". */
export function listed(items: readonly string[], joint: "and" | "or" = "and"): string {
  return items.length < 2 ? (items[0] ?? "") : `${items.slice(0, -1).join(", ")} ${joint} ${items.at(-1)!}`;
}
