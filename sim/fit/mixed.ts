import { countSteps } from "./counts.js";

/** An interval may miss its step by this share of it, and still belong to the same board. */
const NEAR = 0.1;
/** Changes of a board that its observer may have missed in a row. */
const GAP = 3;
/** Rows that each of the two boards must have. */
const LEAST = 4;
/** A board is believed when at most this share of its changes is missing. */
const MISSING = 0.25;
/** Rows among which the first two of a board are looked for. */
const FIRST = 5;

/**
 * Whether a log that should be of one board is rather of two that run beside each other, each with hardly a change missed.
 * Returns their step times in seconds, those of the one seen first in front; null where there are no such two.
 */
export function mixedSteps(times: readonly number[]): readonly [number, number] | null {
  for (let i = 0; i < Math.min(FIRST, times.length); i++) {
    for (let j = i + 1; j < Math.min(i + FIRST, times.length); j++) {
      const own = followed(times, i, j);
      const rest = times.filter((_, row) => !own.has(row));
      const [a, b] = [regularStep(times.filter((_, row) => own.has(row))), regularStep(rest)];
      if (a !== null && b !== null) return own.has(0) ? [a, b] : [b, a];
    }
  }
  return null;
}

/** The rows that follow each other in equal steps, from rows i and j on. */
function followed(times: readonly number[], i: number, j: number): Set<number> {
  const rows = new Set([i, j]);
  let step = times[j]! - times[i]!;
  let last = j;
  let steps = 1;
  for (;;) {
    const next = nextRow(times, last, step);
    if (next === null) return rows;
    rows.add(next.row);
    steps += next.steps;
    last = next.row;
    step = (times[last]! - times[i]!) / steps;
  }
}

function nextRow(times: readonly number[], last: number, step: number): { row: number; steps: number } | null {
  for (let steps = 1; steps <= GAP; steps++) {
    const due = times[last]! + steps * step;
    let nearest = last + 1;
    for (let row = last + 2; row < times.length && times[row]! <= due + step; row++) {
      if (Math.abs(times[row]! - due) < Math.abs(times[nearest]! - due)) nearest = row;
    }
    if (nearest < times.length && Math.abs(times[nearest]! - due) <= NEAR * step) return { row: nearest, steps };
  }
  return null;
}

/** The step of rows that are nearly all changes of one board, else null. */
function regularStep(times: readonly number[]): number | null {
  const counted = times.length < LEAST ? null : countSteps(times);
  if (counted === null) return null;
  const { intervals, odd } = counted;
  const steps = intervals.reduce((sum, interval) => sum + interval.steps, 0);
  if (odd.length + steps - intervals.length > MISSING * times.length) return null;
  return intervals.reduce((sum, { seconds }) => sum + seconds, 0) / steps;
}
