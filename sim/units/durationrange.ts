import { NUMBER, parseDecimal } from "./decimal.js";
import { duration } from "./duration.js";

/** Two durations in seconds, as they stand in one text. */
export interface DurationRange {
  readonly from: number;
  readonly to: number;
  /** The unit that stands beside one of them and was taken for both; null where each has its own, or neither. */
  readonly shared: string | null;
}

/** Between the two: dots, a dash, "to". A dash behind an exponent's e belongs to the number. */
const BETWEEN = /\s*(?:\.{2,3}|…|[–—]|(?<![\d.][eE])-)\s*|\s+to\s+/;
const ONE_TERM = new RegExp(`^${NUMBER}\\s*([a-zµμ]+)$`);

/**
 * Reads "30 s..6 min", "2-4 min" or "2 min to 4 min". A unit on one side alone counts for both; without any, numbers are
 * seconds. Null for anything else, also where a bare number stands beside a time of two units or of a stopwatch, since it
 * might be either.
 */
export function readDurationRange(text: string): DurationRange | null {
  const [first, second, ...more] = text.trim().split(BETWEEN);
  if (first === undefined || second === undefined || more.length > 0) return null;
  const bare = [first, second].map((end) => parseDecimal(end) !== null);
  let shared: string | null = null;
  if (bare[0] !== bare[1]) {
    shared = ONE_TERM.exec(bare[0] === true ? second : first)?.[1] ?? null;
    if (shared === null) return null;
  }
  const [from, to] = [first, second].map((end, i) => duration.parse(shared !== null && bare[i] === true ? `${end} ${shared}` : end));
  return from == null || to == null ? null : { from, to, shared };
}

/** What was made of a unit that stands on one side: a sentence; null where there is nothing to say. */
export function sharedUnitText(text: string, { from, to, shared }: DurationRange): string | null {
  if (shared === null) return null;
  return `"${text.trim()}" has a unit on one side alone, taken for both: ${duration.format(from)} to ${duration.format(to)}.`;
}
