import { add, decimalText, multiply, NUMBER, parseDecimal, shift, toNumber, type Decimal } from "./decimal.js";
import { quantityOf } from "./quantity.js";

interface TimeUnit {
  readonly names: readonly string[];
  /** Length is seconds · 10^power. */
  readonly seconds: bigint;
  readonly power: number;
}

/** Longest first. A lone "m" is a minute, as on a stopwatch; nothing here lasts months, and milliseconds are "ms". */
const UNITS: readonly TimeUnit[] = [
  { names: ["d", "day", "days"], seconds: 86_400n, power: 0 },
  { names: ["h", "hr", "hrs", "hour", "hours"], seconds: 3_600n, power: 0 },
  { names: ["min", "mins", "minute", "minutes", "m"], seconds: 60n, power: 0 },
  { names: ["s", "sec", "secs", "second", "seconds"], seconds: 1n, power: 0 },
  { names: ["ms"], seconds: 1n, power: -3 },
  { names: ["us", "µs", "μs"], seconds: 1n, power: -6 },
];

const ZERO: Decimal = { coefficient: 0n, exponent: 0 };
const TERM = new RegExp(`\\s*(${NUMBER})\\s*([a-zµμ]+)`, "y");
const WATCH = new RegExp(`^(?:(\\d{1,4}):([0-5]\\d)|(\\d{1,4})):([0-5]\\d(?:[.,]\\d+)?)$`);
const ISO = new RegExp(`^P(?:(${NUMBER})D)?(T(?:(${NUMBER})H)?(?:(${NUMBER})M)?(?:(${NUMBER})S)?)?$`);

/** Duration in seconds. Never negative. */
export const duration = quantityOf({
  name: "duration",
  accepted: 'a duration such as "200 s", "3 min 20 s", "3:20", "PT3M20S" or a number of seconds',
  signed: false,
  read: (text) => parseDecimal(text) ?? readTimeTerms(text) ?? readWatch(text) ?? readIso(text),
  print: printDuration,
});

/**
 * Reads numbers with units of time, longest first, such as "1 h 5 min"; null for anything else.
 * The result is in seconds.
 */
export function readTimeTerms(text: string): Decimal | null {
  let total = ZERO;
  let longestAllowed = 0;
  TERM.lastIndex = 0;
  while (TERM.lastIndex < text.length) {
    const [, number = "", name = ""] = TERM.exec(text) ?? [];
    const index = UNITS.findIndex(({ names }) => names.includes(name));
    if (index < longestAllowed) return null;
    longestAllowed = index + 1;
    total = add(total, timeOf(number, UNITS[index]));
  }
  return longestAllowed === 0 ? null : total;
}

/** Reads what a stopwatch shows: "3:02" is minutes and seconds, "1:02:03" hours too; null for anything else. */
function readWatch(text: string): Decimal | null {
  const match = WATCH.exec(text);
  if (match === null) return null;
  const [, hours = "0", minutes, alone = "0", seconds = "0"] = match;
  return [hours, minutes ?? alone, seconds.replace(",", ".")].reduce((total, number, i) => add(total, timeOf(number, UNITS[i + 1])), ZERO);
}

/** Reads the part of ISO 8601 durations that has a fixed length: days, hours, minutes, seconds. */
function readIso(text: string): Decimal | null {
  const match = ISO.exec(text);
  if (match === null) return null;
  const [, days, time, hours, minutes, seconds] = match;
  if (time === "T" || (days === undefined && time === undefined)) return null;
  return [days, hours, minutes, seconds].reduce(
    (total, number, index) => (number === undefined ? total : add(total, timeOf(number, UNITS[index]))),
    ZERO,
  );
}

function timeOf(number: string, unit: TimeUnit | undefined): Decimal {
  const decimal = parseDecimal(number);
  return decimal === null || unit === undefined ? ZERO : shift(multiply(decimal, unit.seconds), unit.power);
}

/** Beyond some thirty million years hours are no help to anybody. */
const LARGEST_IN_HOURS = 1e15;

function printDuration(value: Decimal): string {
  const size = toNumber(value);
  if (size === 0) return "0 s";
  if (size < 1e-3) return `${decimalText(shift(value, 6))} µs`;
  if (size < 1) return `${decimalText(shift(value, 3))} ms`;
  if (size < 60 || size >= LARGEST_IN_HOURS) return `${decimalText(value)} s`;
  const whole = BigInt(Math.floor(size));
  const rest = add(value, { coefficient: -(whole - (whole % 60n)), exponent: 0 });
  const terms = [
    whole >= 3_600n ? `${whole / 3_600n} h` : "",
    (whole / 60n) % 60n > 0n ? `${(whole / 60n) % 60n} min` : "",
    rest.coefficient > 0n ? `${decimalText(rest)} s` : "",
  ];
  return terms.filter((term) => term !== "").join(" ");
}
