import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fewestScenes } from "../../sim/figures/anyhour.js";
import { dayBeforeFigures, sameAsDayBefore } from "../../sim/figures/daybefore.js";
import { repeatAfter, repeatCurve, repeatReturns } from "../../sim/figures/repeat.js";
import type { Timeline } from "../../sim/figures/timeline.js";
import { visitFigures } from "../../sim/figures/visit.js";
import { anyDays, expectNear, HOUR, lineOf, MINUTE, seeded } from "./records.js";

/** Every spell against every other, and every opening against every other: the definition as a double sum. */
function repeatDirectly(line: Timeline, delay: number): number | null {
  const overlap = (a: number, b: number, c: number, d: number): number => Math.max(0, Math.min(b + delay, d) - Math.max(a + delay, c));
  let both = 0;
  let same = 0;
  for (const a of line.openings) for (const b of line.openings) both += overlap(a.from, a.until, b.from, b.until);
  line.from.forEach((from, i) => {
    for (let j = 0; j < line.from.length; j++) {
      if (line.scene[i] === line.scene[j]) same += overlap(from, line.until[i]!, line.from[j]!, line.until[j]!);
    }
  });
  return both === 0 ? null : same / both;
}

/** What is seen in a visit, for the arrivals between two moments from which the same spells are met. */
interface Arrivals {
  readonly length: number;
  readonly seen: readonly number[];
}

/** All arrivals, cut wherever what they meet can change; the middle of each piece is looked at. */
function arrivalsDirectly(line: Timeline, stay: number): Arrivals[] {
  return line.openings.flatMap(({ from, until, first, end }) => {
    const spells = Array.from({ length: end - first }, (_, i) => first + i);
    const cuts = [from, until - stay, ...spells.flatMap((i) => [line.until[i]!, line.until[i]! - stay])]
      .filter((cut) => cut >= from && cut <= until - stay)
      .sort((a, b) => a - b);
    return cuts.slice(1).map((cut, k) => {
      const middle = (cuts[k]! + cut) / 2;
      const met = spells.filter((i) => line.until[i]! > middle && line.from[i]! < middle + stay);
      return { length: cut - cuts[k]!, seen: met.map((i) => line.scene[i]!) };
    });
  });
}

function meanOver(arrivals: readonly Arrivals[], value: (seen: readonly number[]) => number): number | null {
  const all = arrivals.reduce((sum, { length }) => sum + length, 0);
  return all === 0 ? null : arrivals.reduce((sum, { length, seen }) => sum + length * value(seen), 0) / all;
}

const hasRepeat = (seen: readonly number[]): number => (new Set(seen).size < seen.length ? 1 : 0);

describe("repeats against the definition, on records by hand", () => {
  test("after one return time, and along the curve", () => {
    fc.assert(
      fc.property(anyDays, fc.integer({ min: 0, max: 8 * HOUR }), (days, delay) => {
        const line = lineOf(days);
        expectNear(repeatAfter(line, delay), repeatDirectly(line, delay));
        const curve = repeatCurve(line);
        expect(curve.length).toBe(720);
        for (const k of [1, 2, 3, 7, 16, 40, 41, 100, 239, 480, 719, 720]) {
          expect(curve[k - 1]!.afterSeconds).toBe(15 * k);
          expectNear(curve[k - 1]!.share, repeatDirectly(line, k * 15_000_000));
        }
      }),
      seeded(150),
    );
  });

  test("along the curve where there are so many pairs of spells that each point is walked by itself", () => {
    // 2400 spells of about 2 s with two scenes: each has some 600 earlier ones like itself within reach, and there are 720 points
    const spells = Array.from({ length: 2400 }, (_, i) => ({ scene: i % 2, length: 2_000_000 + ((i * 7919) % 900_000) }));
    const line = lineOf([{ gap: 0, spells }]);
    const curve = repeatCurve(line);
    for (const k of [1, 2, 17, 100, 200]) expectNear(curve[k - 1]!.share, repeatDirectly(line, k * 15_000_000));
  });

  test("the curve goes through the same points as single return times", () => {
    fc.assert(
      fc.property(anyDays, (days) => {
        const line = lineOf(days);
        const curve = repeatCurve(line);
        const single = repeatReturns(line, curve.map(({ afterSeconds }) => afterSeconds * 1e6));
        curve.forEach((point, i) => expectNear(point.share, single[i]!.share));
      }),
      seeded(30),
    );
  });

  test("what visitors see", () => {
    fc.assert(
      fc.property(anyDays, fc.integer({ min: 1, max: 2 * HOUR }), (days, stay) => {
        const line = lineOf(days);
        const arrivals = arrivalsDirectly(line, stay);
        const visit = visitFigures(line, { stay });
        expectNear(visit.distinctScenes, meanOver(arrivals, (seen) => new Set(seen).size));
        expectNear(visit.changesSeen, meanOver(arrivals, (seen) => seen.length - 1));
        expectNear(visit.repeatShare, meanOver(arrivals, hasRepeat));
        expect(visit.repeatCurve.length).toBe(120);
        for (const minutes of [1, 2, 5, 13, 30, 60, 120]) {
          expect(visit.repeatCurve[minutes - 1]!.staySeconds).toBe(60 * minutes);
          expectNear(visit.repeatCurve[minutes - 1]!.share, meanOver(arrivalsDirectly(line, minutes * MINUTE), hasRepeat));
        }
      }),
      seeded(150),
    );
  });

  test("the fewest scenes in a stretch of time", () => {
    fc.assert(
      fc.property(anyDays, fc.integer({ min: 1, max: 2 * HOUR }), (days, stretch) => {
        const line = lineOf(days);
        // Between two cuts the scenes met do not change, and at a cut there are no more than beside it
        let fewest: number | null = null;
        for (const { from, until, first, end } of line.openings) {
          const spells = Array.from({ length: end - first }, (_, i) => first + i);
          for (const begin of spells.flatMap((i) => [line.from[i]!, line.until[i]! - stretch])) {
            if (begin < from || begin + stretch > until) continue;
            const met = spells.filter((i) => line.until[i]! > begin && line.from[i]! < begin + stretch);
            fewest = Math.min(fewest ?? Infinity, new Set(met.map((i) => line.scene[i])).size);
          }
        }
        expect(fewestScenes(line, stretch)).toBe(fewest);
      }),
      seeded(150),
    );
  });

  test("likeness to the day before", () => {
    fc.assert(
      fc.property(anyDays, (days) => {
        const line = lineOf(days);
        const same = { first: 0, rest: 0 };
        const all = { first: 0, rest: 0 };
        const split = (sums: typeof same, begin: number, from: number, until: number): number => {
          const first = Math.max(0, Math.min(until, begin + HOUR) - Math.max(from, begin));
          sums.first += first;
          sums.rest += until - from - first;
          return until - from;
        };
        line.openings.forEach((today, k) => {
          const before = line.openings[k - 1];
          let alike = 0;
          if (before !== undefined) {
            const shift = today.from - before.from;
            split(all, today.from, today.from, today.from + Math.min(today.until - today.from, before.until - before.from));
            for (let i = before.first; i < before.end; i++) {
              for (let j = today.first; j < today.end; j++) {
                const from = Math.max(line.from[i]! + shift, line.from[j]!);
                const until = Math.min(line.until[i]! + shift, line.until[j]!);
                if (from < until && line.scene[i] === line.scene[j]) alike += split(same, today.from, from, until);
              }
            }
          }
          const stretches = sameAsDayBefore(line, k);
          expect(stretches.reduce((sum, { from, until }) => sum + until - from, 0)).toBe(alike);
          stretches.forEach(({ from, until }, i) => {
            expect(from).toBeLessThan(until);
            // Whole stretches: there is a gap before the next
            expect(from).toBeGreaterThan(stretches[i - 1]?.until ?? -1);
          });
        });
        const found = dayBeforeFigures(line);
        expectNear(found.firstHourShare, all.first === 0 ? null : same.first / all.first);
        expectNear(found.restShare, all.rest === 0 ? null : same.rest / all.rest);
      }),
      seeded(150),
    );
  });
});
