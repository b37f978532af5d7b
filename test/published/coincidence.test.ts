import { describe, expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import { sceneFigures } from "../../sim/figures/scenes.js";
import { timeline, type Timeline } from "../../sim/figures/timeline.js";
import { totals } from "../../sim/figures/totals.js";
import { visitFigures } from "../../sim/figures/visit.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { formatClock } from "../../sim/units/clock.js";

/*
 * A shuffle board goes at each pulse to a row other than the present one, all n − 1 alike. So with j rows seen, the
 * next is new with chance (n − j)/(n − 1): after the first row, new rows come as in drawing with replacement from
 * n − 1 kinds of which j − 1 are known. Hence among the first k + 1 rows of a shuffle of n
 *   a row comes back with the chance that two of k people share a birthday in a year of n − 1 days,
 *   1 + the mean number of kinds in k draws from n − 1 are different,
 * and all rows are seen after 1 + (n − 1)·H(n − 1) rows on average: the coupon collector's draws for n − 1 kinds.
 *
 * The board is switched on anew each day, at row 0, and draws on: each day is an independent trial.
 */
const STEP = 60_000_000;

interface Trials {
  readonly line: Timeline;
  readonly changes: number;
}

/** A shuffle of n rows, each a scene of its own, for so many glances a day. */
function shuffle(rows: number, glances: number, days: number): Trials {
  const bits = 9;
  const houses = Array.from({ length: bits }, (_, i) => `h${i}: `);
  const steps = Array.from({ length: rows }, (_, row) => `[${Array.from({ length: bits }, (_, i) => i).filter((i) => (row >> i) & 1).join(", ")}]`);
  const outputs = Array.from({ length: bits }, (_, i) => `${i}: h${i}`);
  const record = simulate(
    parseScenario(
      `{ lampdrift: 1, title: Shuffle, opening: { until: "${formatClock(glances * STEP)}", run: ${days} }, houses: { ${houses.join(", ")} },
        boards: { only: { timer: { kind: quartz, step: 1 min }, counter: { kind: shuffle, steps: [${steps.join(", ")}] }, outputs: { ${outputs.slice(0, Math.ceil(Math.log2(rows))).join(", ")} } } } }`,
      "shuffle.yaml",
    ),
  );
  return { line: timeline(record), changes: sceneFigures(record, totals(record)).changes };
}

/** A stay of all but a second of the day: every such visitor sees all its glances. */
const wholeDay = (glances: number): { stay: number } => ({ stay: glances * STEP - 1_000_000 });

/** Days of about so many glances in all. */
const daysOf = (glances: number): number => Math.round(200_000 / glances);
/** Hoeffding: the mean of n values from a range of 1 is further off than this with chance 2·exp(−2·n·e²) = 1e-9 at most. */
const hoeffding = (days: number): number => Math.sqrt(Math.log(2e9) / (2 * days));

describe("a shuffle's rows come back like birthdays", () => {
  test.each([
    // Fisher, Funk, Sams notes (.117 .411 .476 .507 .706), computed to ten places
    [365, 10, 0.1169481777],
    [365, 20, 0.4114383836],
    [365, 22, 0.4756953077],
    [365, 23, 0.5072972343],
    [365, 30, 0.7063162427],
    // National Central University course notes (.970)
    [365, 50, 0.9703735796],
    // Smallest group for 1/2 with 10 boxes, computed
    [10, 5, 0.6976],
  ])("%d days, %d people: %d", (year, people, chance) => {
    const glances = people + 1;
    const days = daysOf(glances);
    const { line, changes } = shuffle(year + 1, glances, days);
    const visit = visitFigures(line, wholeDay(glances));
    expect(Math.abs(visit.repeatShare! - chance)).toBeLessThan(hoeffding(days));
    // Never the same row twice running
    expect(changes).toBe(days * people);
    expect(visit.changesSeen).toBe(people);
  });

  test("different rows seen: n(1 − (1 − 1/n)^k), n = k = 10: 6.513215599", () => {
    const visit = visitFigures(shuffle(11, 11, daysOf(11)).line, wholeDay(11));
    // Between 2 and 11: nine times the range
    expect(Math.abs(visit.distinctScenes! - (1 + 6.513215599))).toBeLessThan(9 * hoeffding(daysOf(11)));
  });
});

describe("a shuffle's rows are collected like coupons", () => {
  /** Rows until all have been seen, each day. */
  function untilAll({ openings, scene, scenes }: Timeline): number[] {
    return openings.map(({ first, end }) => {
      const seen = new Set<number>();
      for (let i = first; i < end; i++) if (seen.add(scene[i]!).size === scenes) return i - first + 1;
      throw new Error("a day was too short to see all rows");
    });
  }

  // Feller, vol. 1 (from memory), exact fractions: 147/10, 761/35, 7381/252; standard deviations computed
  test.each([
    [6, 14.7, 6.244197306],
    [8, 761 / 35, 8.71849495],
    [10, 7381 / 252, 11.2110254],
  ])("%d kinds: %d draws on average, standard deviation %d", (kinds, mean, sd) => {
    // A day of 40·k rows misses one with chance below (k + 1)·(1 − 1/k)^(40·k − 1) = 6e-17
    const days = 1500;
    const counts = untilAll(shuffle(kinds + 1, 40 * kinds, days).line);
    const found = counts.reduce((sum, n) => sum + n, 0) / days;
    const spread = Math.sqrt(counts.reduce((sum, n) => sum + (n - found) ** 2, 0) / (days - 1));
    // Six standard errors: a false alarm in about 5e8 such tests, in the normal approximation
    expect(Math.abs(found - (1 + mean))).toBeLessThan((6 * sd) / Math.sqrt(days));
    // The fourth moment is near that of a Gumbel distribution (5.4): six standard errors of the spread
    expect(Math.abs(spread - sd)).toBeLessThan(6 * sd * Math.sqrt((5.4 - 1) / (4 * days)));
  });
});
