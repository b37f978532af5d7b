/** Runs `work` a few times after a warm-up and returns the median of its seconds. */
export function medianSeconds(rounds: number, work: () => void): number {
  work();
  const seconds = Array.from({ length: rounds }, () => {
    const start = performance.now();
    work();
    return (performance.now() - start) / 1000;
  }).sort((a, b) => a - b);
  return seconds[rounds >> 1]!;
}

/** Prints one row of the benchmark, with what was wanted beside what was found; a miss sets the exit status. */
export function row(what: string, found: number, unit: string, wanted: { atLeast?: number; atMost?: number }): void {
  const { atLeast = -Infinity, atMost = Infinity } = wanted;
  const met = found >= atLeast && found <= atMost;
  const aim = Number.isFinite(atLeast) ? `(at least ${atLeast})` : Number.isFinite(atMost) ? `(at most ${atMost})` : "";
  console.log(`${met ? "  " : "! "}${what.padEnd(52)} ${found.toPrecision(3).padStart(8)} ${unit}  ${aim}`);
  if (!met) process.exitCode = 1;
}

/** Stops the benchmark when the work was not done: a fast run that does less is no result. */
export function assertWork(what: string, done: number, expected: number, within: number): void {
  if (Math.abs(done - expected) > within) throw new Error(`${what}: ${done} done, ${expected} ± ${within} expected`);
}

/** Median over rounds of one work's time over the other's, each round timing both one after the other. */
export function pairedRatio(rounds: number, one: () => void, other: () => void): number {
  const timed = (work: () => void): number => {
    const start = performance.now();
    work();
    return performance.now() - start;
  };
  timed(one);
  timed(other);
  const ratios = Array.from({ length: rounds }, () => timed(one) / timed(other)).sort((a, b) => a - b);
  return ratios[rounds >> 1]!;
}
