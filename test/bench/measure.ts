import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { cpus } from "node:os";

/** What a figure should come to. */
export interface Wanted {
  readonly atLeast?: number;
  readonly atMost?: number;
}

interface Row extends Wanted {
  readonly what: string;
  readonly found: number;
  readonly unit: string;
  readonly met: boolean;
}

const rows: Row[] = [];

/** Prints one row of the benchmark, with what was wanted beside what was found; a miss sets the exit status. */
export function row(what: string, found: number, unit: string, wanted: Wanted): void {
  const { atLeast = -Infinity, atMost = Infinity } = wanted;
  const met = found >= atLeast && found <= atMost;
  const aim = Number.isFinite(atLeast) ? `(at least ${atLeast})` : Number.isFinite(atMost) ? `(at most ${atMost})` : "";
  console.log(`${met ? "  " : "! "}${what.padEnd(58)} ${found.toPrecision(3).padStart(8)} ${unit.padEnd(8)} ${aim}`);
  if (!met) process.exitCode = 1;
  rows.push({ what, found, unit, ...wanted, met });
}

/** Writes all rows so far as JSON: `what`, `found`, `unit`, `atLeast` or `atMost` where something is wanted, `met`. */
export function writeRows(file: string): void {
  writeFileSync(file, `${JSON.stringify({ node: process.version, processor: cpus()[0]?.model.trim() ?? null, rows }, null, 1)}\n`);
}

const LAST = cpus().length - 1;

/** The command line that runs a program on the last processor core alone, or on all of them; empty where there is no `taskset`. */
export function onCores(which: "last" | "all"): string[] {
  try {
    execFileSync("taskset", ["--version"], { stdio: "ignore" });
    return ["taskset", "--cpu-list", which === "last" ? String(LAST) : `0-${LAST}`];
  } catch {
    return [];
  }
}

/** Puts this process, with all threads it has, on the last core alone; what it starts stays there unless it is told. Says whether it could. */
export function pin(): boolean {
  if (onCores("last").length === 0) return false;
  execFileSync("taskset", ["--all-tasks", "--cpu-list", "--pid", String(LAST), String(process.pid)], { stdio: "ignore" });
  return true;
}

/** Stops the benchmark when the work was not done: a fast run that does less is no result. */
export function assertWork(what: string, done: number, expected: number, within: number): void {
  if (Math.abs(done - expected) > within) throw new Error(`${what}: ${done} done, ${expected} ± ${within} expected`);
}

/** Seconds of processor time that a work takes, all threads of this process together: what others do meanwhile does not count. */
function cpuSeconds(work: () => unknown): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6;
}

export function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1]!;
}

const ROUNDS = 7;

/** Median of the processor seconds of a work, after a warm-up. */
export function medianSeconds(work: () => unknown): number {
  work();
  return median(Array.from({ length: ROUNDS }, () => cpuSeconds(work)));
}

/** Medians of the processor seconds of several works and, for each pair that is asked for, of the ratios of one round. */
export class Paired<Name extends string> {
  private readonly times: Record<Name, number>[];

  /** Each round runs all works one after the other, the first round being a warm-up. */
  constructor(works: Readonly<Record<Name, () => unknown>>) {
    const names = Object.keys(works) as Name[];
    const round = (): Record<Name, number> => Object.fromEntries(names.map((name) => [name, cpuSeconds(works[name])])) as Record<Name, number>;
    round();
    this.times = Array.from({ length: ROUNDS }, round);
  }

  seconds(name: Name): number {
    return median(this.times.map((time) => time[name]));
  }

  ratio(one: Name, other: Name): number {
    return median(this.times.map((time) => time[one] / time[other]));
  }
}
