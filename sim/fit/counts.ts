import type { Seconds } from "../units/time.js";

/** The time between two rows of a log, as a number of steps. */
export interface Interval {
  /** Index of the row with which it ends; it begins with the one before. */
  readonly row: number;
  /** When it begins, and how long it lasts. */
  readonly from: number;
  readonly seconds: Seconds;
  /** Steps that passed; the changes between were not noted. */
  readonly steps: number;
}

/** How the rows of one board's log follow each other. */
export interface Counted {
  readonly intervals: readonly Interval[];
  /** Rows that end an interval which is no whole number of steps (a slip, the longer first step after switch-on) or too long to count. */
  readonly odd: readonly number[];
}

/** A changed interval may miss a whole number of steps by this much, as a share of a step, for each step in it. */
const SLACK = 0.15;
/** Beyond this, an interval of many steps could be of one more or one less. */
const MOST_SLACK = 0.25;
/** The same where no interval is a single step: then little speaks for the number, so it must fit well. */
const CLOSE = 0.06;
/** Where this share of the intervals is no whole number of steps, a shorter step is looked for that explains them too. */
const LEFT_OUT = 1 / 16;
/** Intervals a log needs before a step is looked for that none of them shows. */
const ENOUGH = 4;
/** A step is believed when so many of the intervals fit it. */
const MAJORITY = 0.8;
/** Noise of a step that is reckoned with at least, as a share of it. */
const LEAST_NOISE = 0.005;
/** Lengths of interval that are tried as the step, at most. */
const TRIED = 200;

/**
 * Finds how many steps lie between the rows of a log whose observer may have missed changes: the longest step of which
 * nearly all intervals are whole multiples. Where every second change is missed throughout, nothing in a log tells so.
 * Null when there is no such step.
 */
export function countSteps(times: readonly number[]): Counted | null {
  const lengths = times.slice(1).map((time, i) => time - times[i]!);
  const step = findStep(lengths);
  if (step === null) return null;
  const fitting = lengths.flatMap((seconds, i) =>
    fits(seconds, step.seconds, step.slack) ? [{ row: i + 1, from: times[i]!, seconds, steps: stepsIn(seconds, step.seconds) }] : [],
  );
  const intervals = countable(fitting, step.seconds);
  const rows = new Set(intervals.map(({ row }) => row));
  return { intervals, odd: lengths.flatMap((_, i) => (rows.has(i + 1) ? [] : [i + 1])) };
}

/**
 * Without the intervals so long that, with the step as uncertain as the shorter ones leave it, they could as well hold
 * one step more or less: those over a night, for instance.
 */
function countable(intervals: readonly Interval[], step: number): Interval[] {
  const shortFirst = [...intervals].sort((a, b) => a.steps - b.steps);
  const kept = new Set<Interval>();
  let steps = 0;
  let squares = 0;
  for (const interval of shortFirst) {
    const noise = Math.max(LEAST_NOISE, Math.sqrt(squares / Math.max(1, kept.size)));
    if (interval.steps > 1 && steps > 0 && (2 * noise * interval.steps) / Math.sqrt(steps) > MOST_SLACK) continue;
    kept.add(interval);
    steps += interval.steps;
    squares += (interval.seconds / step - interval.steps) ** 2 / interval.steps;
  }
  return intervals.filter((interval) => kept.has(interval));
}

interface Step {
  readonly seconds: Seconds;
  readonly slack: number;
}

function findStep(lengths: readonly number[]): Step | null {
  const sorted = [...lengths].sort((a, b) => a - b);
  const every = Math.max(1, Math.ceil(sorted.length / TRIED));
  const tried = sorted.filter((_, i) => i % every === 0);
  const single = longestThatFits(lengths, tried, SLACK);
  if (single !== null) return { seconds: shorterOf(lengths, tried, single) ?? single, slack: SLACK };
  if (lengths.length < ENOUGH) return null;
  const shared = longestThatFits(lengths, tried.flatMap((length) => [length / 2, length / 3]), CLOSE);
  return shared === null ? null : { seconds: shared, slack: CLOSE };
}

/**
 * An interval of the log that goes evenly into the step found and fits all that the step leaves over: so many changes were
 * missed that nearly all that was noted is two or three steps apart. Null where there is none, or where the odd ones are
 * few enough to be slips.
 */
function shorterOf(lengths: readonly number[], tried: readonly number[], step: number): number | null {
  const odd = lengths.filter((length) => !fits(length, step, SLACK));
  if (odd.length < LEFT_OUT * lengths.length) return null;
  const shorter = tried.filter((length) => stepsIn(step, length) > 1 && fits(step, length, CLOSE));
  return longestThatFits(lengths, shorter, SLACK, 1);
}

function longestThatFits(lengths: readonly number[], candidates: readonly number[], slack: number, most = MAJORITY): number | null {
  for (const candidate of [...candidates].sort((a, b) => b - a)) {
    let seconds = candidate;
    let fitting: number[] = [];
    // the candidate has the noise of one interval; the mean of all that fit has less
    for (let round = 0; round < 3; round++) {
      fitting = lengths.filter((length) => fits(length, seconds, slack));
      if (fitting.length === 0) break;
      seconds = sum(fitting) / sum(fitting.map((length) => stepsIn(length, seconds)));
    }
    if (fitting.length >= most * lengths.length) return seconds;
  }
  return null;
}

function stepsIn(length: number, step: number): number {
  return Math.max(1, Math.round(length / step));
}

function fits(length: number, step: number, slack: number): boolean {
  const steps = stepsIn(length, step);
  return Math.abs(length / step - steps) <= Math.min(MOST_SLACK, slack * Math.sqrt(steps));
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
