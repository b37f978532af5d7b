import type { Timeline } from "./timeline.js";
import { HOUR, type Micros } from "../units/time.js";

/**
 * How alike the days are: the share of time that shows the same scene as the opening before it showed as long after
 * it began. Null where there is no such time.
 */
export interface DayBeforeFigures {
  /** In the first hour of an opening. */
  readonly firstHourShare: number | null;
  /** After the first hour. */
  readonly restShare: number | null;
  /** In the whole opening. */
  readonly share: number | null;
}

export interface Stretch {
  /** Microseconds. */
  readonly from: Micros;
  readonly until: Micros;
}

/** How alike the days are at their beginning, and later on. One walk along the spells. */
export function dayBeforeFigures(line: Timeline): DayBeforeFigures {
  const same = { first: 0, rest: 0 };
  const all = { first: 0, rest: 0 };
  const add = (to: typeof same, begin: Micros, from: Micros, until: Micros): void => {
    to.first += Math.max(0, Math.min(until, begin + HOUR) - from);
    to.rest += Math.max(0, until - Math.max(from, begin + HOUR));
  };
  line.openings.forEach((opening, k) => {
    const before = line.openings[k - 1];
    if (before === undefined) return;
    add(all, opening.from, opening.from, Math.min(opening.until, opening.from + (before.until - before.from)));
    eachSameAsBefore(line, k, (from, until) => add(same, opening.from, from, until));
  });
  return {
    firstHourShare: all.first === 0 ? null : same.first / all.first,
    restShare: all.rest === 0 ? null : same.rest / all.rest,
    share: all.first + all.rest === 0 ? null : (same.first + same.rest) / (all.first + all.rest),
  };
}

/** The stretches of opening k that show what the opening before showed at that time, as long as they go; none for the first. */
export function sameAsDayBefore(line: Timeline, k: number): Stretch[] {
  const stretches: Stretch[] = [];
  eachSameAsBefore(line, k, (from, until) => {
    if (stretches.at(-1)?.until === from) stretches.push({ from: stretches.pop()!.from, until });
    else stretches.push({ from, until });
  });
  return stretches;
}

/** Calls `visit` for each pair of spells of opening k and the one before that show the same scene at the same time of day. */
function eachSameAsBefore(line: Timeline, k: number, visit: (from: Micros, until: Micros) => void): void {
  const today = line.openings[k]!;
  const before = line.openings[k - 1];
  if (before === undefined) return;
  const shift = today.from - before.from;
  let i = before.first;
  let j = today.first;
  while (i < before.end && j < today.end) {
    const oldUntil = line.until[i]! + shift;
    const newUntil = line.until[j]!;
    const from = Math.max(line.from[i]! + shift, line.from[j]!);
    const until = Math.min(oldUntil, newUntil);
    if (line.scene[i] === line.scene[j] && from < until) visit(from, until);
    if (oldUntil <= newUntil) i++;
    else j++;
  }
}
