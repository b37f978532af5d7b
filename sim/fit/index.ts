import { countSteps, type Counted, type Interval } from "./counts.js";
import { estimateTimer, type Estimate } from "./estimate.js";
import { InputError } from "../errors.js";
import { spokenDuration } from "../units/text.js";
import { LEAST_ROWS, type BoardLog } from "./log.js";
import { mixedSteps } from "./mixed.js";
import { stepsNeeded } from "./precision.js";
import { slipsIn } from "./slips.js";
import { timerLine } from "./timerline.js";
import type { Seconds } from "../units/time.js";

export { parseLog, type BoardLog } from "./log.js";

/** What a stopwatch log tells about one board. Seconds; shares per hour. */
export interface FittedBoard {
  readonly id: string;
  /** Step time at the middle of the log, with its 95 % interval. */
  readonly stepSeconds: Seconds;
  readonly low: number;
  readonly high: number;
  /** Standard deviation of one step, with its 95 % interval; `jitterLow` is 0 where the rows may be all reading error. */
  readonly jitterSeconds: Seconds;
  readonly jitterLow: number;
  readonly jitterHigh: number;
  /** Standard deviation of one reading of the stopwatch. */
  readonly readingSeconds: Seconds;
  /** Relative growth of the step per hour, with its 95 % interval; null where the log is too short to tell. */
  readonly driftPerHour: number | null;
  readonly driftLow: number | null;
  readonly driftHigh: number | null;
  /** Changes between the rows that were not noted. */
  readonly missed: number;
  /** Rows of the log. */
  readonly observations: number;
  /** Rows that were noted so many seconds late, or early where negative, and are left out. */
  readonly slips: readonly { readonly line: number; readonly offSeconds: Seconds }[];
  /** Lines of rows that end an interval of no whole number of steps; those intervals are left out. */
  readonly oddLines: readonly number[];
  /** Steps from the first row to the last, odd intervals left out. */
  readonly steps: number;
  /** Steps that must be watched in all for the precision asked for; null when it is out of reach, or none was asked for. */
  readonly stepsNeeded: number | null;
  /** As it may stand in a scenario file. */
  readonly timer: string;
  readonly residuals: readonly Residual[];
}

/** How far a row lies from where equal steps at the fitted time would put it. */
export interface Residual {
  readonly line: number;
  readonly atSeconds: Seconds;
  readonly residualSeconds: Seconds;
  /** Changes missed just before it. */
  readonly missed: number;
  /** True where counting begins anew after an odd interval. */
  readonly anew: boolean;
}

/** What is asked of a log. */
export interface FitOptions {
  /** Wanted half-width of the interval of the step time, seconds. */
  readonly precision?: number | undefined;
}

/**
 * Fits every board of a log by least squares with two kinds of noise. Throws {@link InputError} that names every board whose rows
 * follow each other in no whole number of steps, or too few of them do.
 * Seconds; drift is a share an hour.
 *
 * @example
 * ```ts
 * import { fitLog, parseLog } from "lampdrift";
 *
 * const log = parseLog("board,time\nquay,0\nquay,40.1\nquay,80.0\nquay,119.9\nquay,160.1", "evening.csv");
 * const [quay] = fitLog(log, "evening.csv");
 * console.log(quay!.stepSeconds.toFixed(1), quay!.missed); // 40.0 0
 * ```
 */
export function fitLog(log: readonly BoardLog[], file: string, { precision }: FitOptions = {}): FittedBoard[] {
  const found = log.map((board) => fitBoard(board, precision));
  const refused = found.filter((board) => typeof board === "string");
  if (refused.length > 0) throw new InputError(refused.map((message) => `${file}: ${message}`).join("\n"));
  return found as FittedBoard[];
}

/** One board; a message where its log cannot be used. */
function fitBoard({ id, rows: all, grain }: BoardLog, precision: number | undefined): FittedBoard | string {
  const times = all.map(({ seconds }) => seconds);
  const asWritten = countSteps(times);
  const refused = refusal(id, times, asWritten);
  if (refused !== null || asWritten === null) return refused ?? unequal(id, times);
  const slips = slipsIn(times, asWritten, grain);
  const rows = all.filter((_, row) => slips.every((slip) => slip.row !== row));
  const counted = slips.length === 0 ? asWritten : countSteps(rows.map(({ seconds }) => seconds));
  if (counted === null) return unequal(id, times);
  const { intervals, odd } = counted;
  if (intervals.length < LEAST_ROWS - 1) return `board ${id}: too few rows follow each other in whole steps; expected at least ` +
    `${LEAST_ROWS}`;
  const estimate = estimateTimer(intervals, grain);
  const { step, jitter, reading, drift } = estimate;
  return {
    id,
    stepSeconds: step.value,
    low: step.low,
    high: step.high,
    jitterSeconds: jitter.value,
    jitterLow: jitter.low,
    jitterHigh: jitter.high,
    readingSeconds: reading,
    ...driftKeys(drift),
    // a change that was noted at a wrong time was seen all the same
    missed: Math.max(0, missedIn(intervals) - slips.length),
    slips: slips.map(({ row, off }) => ({ line: all[row]!.line, offSeconds: off })),
    observations: all.length,
    oddLines: odd.map((row) => rows[row]!.line),
    steps: intervals.reduce((sum, { steps }) => sum + steps, 0),
    stepsNeeded: precision === undefined ? null : stepsNeeded(estimate, precision),
    timer: timerLine(estimate),
    residuals: residualsOf(rows, intervals, step.value, slips.map(({ row }) => all[row]!.line)),
  };
}

/** Why the rows of a board cannot be of one timer; null where they can. */
function refusal(id: string, times: readonly number[], counted: Counted | null): string | null {
  const few = counted === null || 2 * counted.odd.length > times.length;
  // a step that few rows show may be a common measure of two
  const mixed = few || missedIn(counted.intervals) > times.length ? mixedSteps(times) : null;
  if (mixed !== null) {
    const [a, b] = mixed.map(spokenDuration);
    return `board ${id}: rows of two boards seem to be mixed, with steps of about ${a} and ${b}; give each board its own name`;
  }
  return few ? unequal(id, times) : null;
}

function unequal(id: string, times: readonly number[]): string {
  const lengths = times.slice(1).map((time, i) => spokenDuration(time - times[i]!));
  const told = lengths.length <= 6 ? lengths.join(", ") : `${lengths.slice(0, 6).join(", ")}, …`;
  return `board ${id}: the times between its rows (${told}) are no whole numbers of one step; are rows of two boards mixed?`;
}

function missedIn(intervals: readonly Interval[]): number {
  return intervals.reduce((sum, { steps }) => sum + steps - 1, 0);
}

function driftKeys(drift: Estimate | null): Pick<FittedBoard, "driftPerHour" | "driftLow" | "driftHigh"> {
  return { driftPerHour: drift?.value ?? null, driftLow: drift?.low ?? null, driftHigh: drift?.high ?? null };
}

/** Rows against equal steps; between odd intervals their mean is 0. */
function residualsOf(rows: BoardLog["rows"], intervals: readonly Interval[], step: number, slips: readonly number[]): Residual[] {
  const byRow = new Map(intervals.map((interval) => [interval.row, interval]));
  const runs: Residual[][] = [];
  let off = 0;
  rows.forEach(({ line, seconds }, row) => {
    const interval = byRow.get(row);
    off = interval === undefined ? 0 : off + interval.seconds - interval.steps * step;
    if (interval === undefined) runs.push([]);
    const slipped = slips.filter((slip) => slip < line && slip > (rows[row - 1]?.line ?? 0)).length;
    runs.at(-1)!.push({ line, atSeconds: seconds, residualSeconds: off, missed: Math.max(0, (interval?.steps ?? 1) - 1 - slipped), anew: row > 0 && interval === undefined });
  });
  return runs.flatMap((run) => {
    const mean = run.reduce((sum, { residualSeconds }) => sum + residualSeconds, 0) / run.length;
    return run.map((residual) => ({ ...residual, residualSeconds: residual.residualSeconds - mean }));
  });
}
