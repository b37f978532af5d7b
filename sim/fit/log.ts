import { group } from "d3-array";
import { InputError } from "../errors.js";
import { id, idAccepted } from "../scenario/fields.js";
import { parseDecimal, toNumber } from "../units/decimal.js";
import type { Seconds } from "../units/time.js";

/** The log of one board: when its changes were seen. */
export interface BoardLog {
  readonly id: string;
  readonly rows: readonly LogRow[];
  /** The least difference that its times are written down with, seconds. */
  readonly grain: number;
}

/** One change that was seen: when, in seconds, and in which line of the log. */
export interface LogRow {
  readonly line: number;
  readonly seconds: Seconds;
}

/** Rows of a board from which a step can be told with an interval. */
export const LEAST_ROWS = 3;
const PROBLEMS_TOLD = 50;

interface Row extends LogRow {
  readonly board: string;
  readonly time: string;
  readonly decimals: number;
}

/**
 * Reads a stopwatch log: the header `board,time`, then one row for each change that was seen, its time in seconds or as
 * h:mm:ss, rising from row to row of a board. Throws {@link InputError} that lists every line that will not do.
 * Times are seconds.
 *
 * @example
 * ```ts
 * import { parseLog } from "lampdrift";
 *
 * const log = parseLog("board,time\nquay,0\nquay,40.1\nquay,80.0\nquay,119.9\nquay,160.1", "evening.csv");
 * console.log(log[0]!.id, log[0]!.rows.length); // quay 5
 * ```
 */
export function parseLog(text: string, file: string): BoardLog[] {
  const lines = text.replace(/^\ufeff/, "").split(/\r\n|\n|\r/);
  const head = lines.findIndex((line) => !isNote(line));
  if (head < 0) throw new InputError(`${file}: the file is empty; expected the header board,time and a row for each change seen`);
  if (!/^"?board"?\s*,\s*"?time"?$/i.test(lines[head]!.trim())) {
    throw new InputError(`${file}:${head + 1}: found ${quoted(lines[head]!)}; expected the header board,time${otherSign(lines[head]!)}`);
  }
  const problems: Problem[] = [];
  const rows = lines.flatMap((line, i) => (i <= head || isNote(line) ? [] : (readRow(line, i + 1, problems) ?? [])));
  const boards = group(rows, ({ board }) => board);
  for (const [board, log] of boards) problems.push(...orderProblems(board, log));
  if (rows.length === 0 && problems.length === 0) problems.push({ line: 0, message: "there are no rows below the header; expected one " +
    "for each change seen" });
  // a log with a row missing may be short for that alone
  if (problems.length === 0) {
    for (const [board, log] of boards) {
      if (log.length >= LEAST_ROWS) continue;
      const seen = log.length === 1 ? "1 change was" : `${log.length} changes were`;
      problems.push({ line: log.at(-1)!.line, message: `of board ${board} only ${seen} seen; expected at least ${LEAST_ROWS}` });
    }
  }
  if (problems.length > 0) throw new InputError(inOrder(file, problems));
  return [...boards].map(([board, log]) => ({
    id: board,
    rows: log.map(({ line, seconds }) => ({ line, seconds })),
    grain: 10 ** -Math.max(...log.map(({ decimals }) => decimals)),
  }));
}

/** An empty line, or one that begins with # and is for the reader alone. */
function isNote(line: string): boolean {
  return /^\s*(#|$)/.test(line);
}

interface Problem {
  readonly line: number;
  readonly message: string;
}

function inOrder(file: string, problems: readonly Problem[]): string {
  const sorted = [...problems].sort((a, b) => a.line - b.line);
  const told = sorted.slice(0, PROBLEMS_TOLD).map(({ line, message }) => `${file}${line === 0 ? "" : `:${line}`}: ${message}`);
  const more = sorted.length > told.length ? [`${file}: … and ${sorted.length - told.length} more`] : [];
  return [...told, ...more].join("\n");
}

function readRow(line: string, number: number, problems: Problem[]): Row | null {
  const refuse = (message: string): null => {
    problems.push({ line: number, message });
    return null;
  };
  const cells = line.split(",").map((cell) => cell.trim().replace(/^"(.*)"$/, "$1").trim());
  const [board = "", time = ""] = cells;
  if (cells.length !== 2) return refuse(`found ${quoted(line)}; expected a board and a time with a comma between them${otherSign(line)}`);
  if (!id.safeParse(board).success) return refuse(`found ${quoted(board)}; expected ${idAccepted}`);
  const seconds = secondsOf(time);
  if (seconds === null) return refuse(`found ${quoted(time)}; expected a time in seconds, such as 213.4, or as ` +
    `h:mm:ss${/^\d+:[0-5]\d$/.test(time) ? `; write 0:${time.padStart(5, "0")} for minutes and seconds` : ""}`);
  return { board, time, line: number, seconds, decimals: /\.(\d+)$/.exec(time)?.[1]!.length ?? 0 };
}

/** Most seconds that are a time of watching: a year. */
const LONGEST = 366 * 86_400;

function secondsOf(time: string): number | null {
  if (time.length > 30) return null;
  const clock = /^(\d+):([0-5]\d):([0-5]\d(?:\.\d+)?)$/.exec(time);
  const seconds = clock === null ? plainSeconds(time) : Number(clock[1]) * 3600 + Number(clock[2]) * 60 + Number(clock[3]);
  return seconds !== null && seconds >= 0 && seconds <= LONGEST ? seconds : null;
}

function plainSeconds(time: string): number | null {
  const decimal = /^\d*\.?\d*$/.test(time) ? parseDecimal(time) : null;
  return decimal && toNumber(decimal);
}

/** Rows whose time is not later than that of the row before. */
function orderProblems(board: string, log: readonly Row[]): Problem[] {
  const falls = log.flatMap((row, i) => (i > 0 && row.seconds <= log[i - 1]!.seconds ? [{ row, before: log[i - 1]! }] : []));
  const problem = ({ row, before }: (typeof falls)[number], hint: string): Problem => ({
    line: row.line,
    message: `board ${board}: ${row.time} is ${row.seconds === before.seconds ? "the same as" : "before"} ${before.time} in line ` +
      `${before.line}; ${hint}`,
  });
  const only = falls[0];
  if (falls.length === 1 && only !== undefined && startsAnew(log, only.row)) {
    const midnight = only.row.time.includes(":") && only.before.seconds > 20 * 3600;
    return [
      problem(
        only,
        midnight
          ? "after midnight count on: 24:05:00 for five past"
          : "a second log seems to begin here: keep one in a file, or go on counting from the first start",
      ),
    ];
  }
  return falls.map((fall) => problem(fall, "times of a board must rise from row to row"));
}

/** Whether a log falls back to where it began, rather than by a slip of the pen. */
function startsAnew(log: readonly Row[], row: Row): boolean {
  const at = log.indexOf(row);
  if (at < 2) return false;
  const most = log[at - 1]!.seconds;
  return row.seconds < most / 2 || row.seconds <= log[0]!.seconds + 60;
}

function quoted(text: string): string {
  return JSON.stringify(text.length <= 60 ? text : `${text.slice(0, 57)}…`);
}

/** What to do about a file whose columns are kept apart by another sign. */
function otherSign(line: string): string {
  if (line.includes(",")) return "";
  if (line.includes(";")) return "; save it with commas, not semicolons";
  return line.includes("\t") ? "; save it with commas, not tabs" : "";
}
