import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import { fewestScenes } from "../../sim/figures/anyhour.js";
import { dayBeforeFigures, sameAsDayBefore } from "../../sim/figures/daybefore.js";
import { figures } from "../../sim/figures/index.js";
import { echoes, repeatAfter, repeatCurve, repeatReturns, type RepeatPoint } from "../../sim/figures/repeat.js";
import { timeline, type Timeline } from "../../sim/figures/timeline.js";
import { repeatWithin, stayCurve, visitFigures } from "../../sim/figures/visit.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { randomSpec } from "../oracle/random.js";
import { toYaml } from "../oracle/spec.js";
import { anyDays, merged, recordOf, reversed, type Day } from "./records.js";

const MINUTE = 60_000_000;
const HOUR = 60 * MINUTE;
const seeded = (numRuns: number): { seed: number; numRuns: number } => ({ seed: 20_240_511, numRuns });

const lineOf = (days: readonly Day[]): Timeline => timeline(recordOf(days));

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

function expectNear(found: number | null, wanted: number | null): void {
  if (wanted === null || found === null) expect(found).toBe(wanted);
  else expect(Math.abs(found - wanted)).toBeLessThanOrEqual(1e-12 * Math.max(1, wanted));
}

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
    // 1600 spells of about 2 s with two scenes: each has some 800 like itself within reach, more than half the points
    const spells = Array.from({ length: 1600 }, (_, i) => ({ scene: i % 2, length: 2_000_000 + ((i * 7919) % 900_000) }));
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

describe("what must hold for any record", () => {
  test("repeats are the same in time run backwards", () => {
    fc.assert(
      fc.property(anyDays, fc.integer({ min: 0, max: 8 * HOUR }), (days, delay) => {
        const line = lineOf(days);
        const back = lineOf(reversed(days));
        expectNear(repeatAfter(back, delay), repeatAfter(line, delay));
        const wanted = repeatCurve(line);
        repeatCurve(back).forEach(({ share }, i) => expectNear(share, wanted[i]!.share));
      }),
      seeded(60),
    );
  });

  test("showing one scene as another never makes repeats after a return rarer, nor any hour richer", () => {
    fc.assert(
      fc.property(anyDays, fc.nat(5), fc.nat(5), fc.integer({ min: 0, max: 8 * HOUR }), (days, scene, as, delay) => {
        const line = lineOf(days);
        const fewer = lineOf(merged(days, scene, as));
        expect(repeatAfter(fewer, delay) ?? 0).toBeGreaterThanOrEqual(repeatAfter(line, delay) ?? 0);
        const before = repeatCurve(line);
        repeatCurve(fewer).forEach(({ share }, i) => expect(share ?? 0).toBeGreaterThanOrEqual(before[i]!.share ?? 0));
        expect(fewestScenes(fewer, HOUR) ?? 0).toBeLessThanOrEqual(fewestScenes(line, HOUR) ?? 0);
      }),
      seeded(100),
    );
  });

  test("showing one scene as another, the two never next to each other, never makes repeats within a stay rarer", () => {
    let tried = 0;
    fc.assert(
      fc.property(anyDays, fc.nat(5), fc.nat(5), fc.integer({ min: 1, max: HOUR }), (days, scene, as, stay) => {
        const touch = recordOf(days).openings.some(({ first, end }) =>
          Array.from({ length: end - first - 1 }, (_, i) => recordOf(days).spellScene.slice(first + i, first + i + 2)).some(
            (two) => two.includes(scene) && two.includes(as),
          ),
        );
        fc.pre(!touch && scene !== as);
        tried++;
        const line = lineOf(days);
        const fewer = lineOf(merged(days, scene, as));
        expect(repeatWithin(fewer, stay) ?? 0).toBeGreaterThanOrEqual(repeatWithin(line, stay) ?? 0);
        const before = stayCurve(line);
        stayCurve(fewer).forEach(({ share }, i) => expect(share ?? 0).toBeGreaterThanOrEqual(before[i]!.share ?? 0));
      }),
      seeded(100),
    );
    expect(tried).toBe(100);
  });

  test("scenes next to each other shown as one are one spell, which is no repeat", () => {
    const days = [{ gap: 0, spells: [0, 1, 0].map((scene) => ({ scene, length: MINUTE })) }];
    expect(repeatWithin(lineOf(days), 2 * MINUTE)).toBe(1);
    expect(repeatWithin(lineOf(merged(days, 1, 0)), 2 * MINUTE)).toBe(0);
  });

  // Those who see no repeat before leaving are, in each opening, the ones who arrive in stretches that each shrink at
  // their end as the stay grows, at least as fast as the time in which one can arrive at all; with openings of one
  // length that carries over to their sum.
  test("the longer the stay, the likelier a repeat, where all openings have one length", () => {
    const sameLength = anyDays.map((days) => {
      const lengthOf = ({ spells }: Day): number => spells.reduce((sum, { length }) => sum + length, 0);
      const longest = Math.max(...days.map(lengthOf));
      return days.map((day) => ({ gap: day.gap, spells: [...day.spells, { scene: day.spells.at(-1)!.scene, length: longest - lengthOf(day) }] }));
    });
    fc.assert(
      fc.property(sameLength, (days) => {
        const line = lineOf(days);
        let before = 0;
        for (const { share } of stayCurve(line)) {
          if (share === null) continue;
          expect(share).toBeGreaterThanOrEqual(before - 1e-12);
          expect(share).toBeLessThanOrEqual(1);
          before = share;
        }
      }),
      seeded(150),
    );
  });

  test.each([3, 8, 21])("a house that is never lit changes nothing (display %i)", (seed) => {
    const spec = randomSpec(seed);
    const read = (): ReturnType<typeof figures> => figures(simulate(parseScenario(toYaml(spec), "spec.yaml")));
    const without = read();
    spec.houses.push({ id: "ruin" });
    const { repeat, visit, anyHour, scenes, lit } = read();
    expect(repeat).toEqual(without.repeat);
    expect(visit).toEqual(without.visit);
    expect(anyHour).toEqual(without.anyHour);
    expect(scenes).toEqual(without.scenes);
    expect(lit.shares).toEqual([...without.lit.shares, 0]);
  });
});

describe("where there is nothing to look at", () => {
  const oneHour = lineOf([{ gap: 0, spells: [0, 1].map((scene) => ({ scene, length: HOUR / 2 })) }]);

  test("a return after the only opening is over", () => {
    expect(repeatAfter(oneHour, HOUR)).toBeNull();
    expect(repeatAfter(oneHour, HOUR - 1)).toBe(0);
    expect(repeatCurve(oneHour).map(({ share }) => share !== null)).toEqual(Array.from({ length: 720 }, (_, i) => 15 * (i + 1) < 3600));
  });

  test("a stay as long as the opening", () => {
    expect(visitFigures(oneHour, { stay: HOUR })).toMatchObject({ staySeconds: 3600, distinctScenes: null, changesSeen: null, repeatShare: null });
    expect(visitFigures(oneHour, { stay: HOUR - 1 })).toMatchObject({ distinctScenes: 2, changesSeen: 1, repeatShare: 0 });
    expect(stayCurve(oneHour).map(({ share }) => share)).toEqual(Array.from({ length: 120 }, (_, i) => (i + 1 < 60 ? 0 : null)));
  });

  test("an hour that just fits, and one that does not", () => {
    expect(fewestScenes(oneHour, HOUR)).toBe(2);
    expect(fewestScenes(oneHour, HOUR + 1)).toBeNull();
    // Half an hour fits exactly beside the change: the spell it only touches does not count
    expect(fewestScenes(oneHour, HOUR / 2)).toBe(1);
    expect(fewestScenes(oneHour, HOUR / 2 + 1)).toBe(2);
  });

  test("the day before the first day", () => {
    expect(dayBeforeFigures(oneHour)).toEqual({ firstHourShare: null, restShare: null });
    expect(sameAsDayBefore(oneHour, 0)).toEqual([]);
  });
});

describe("echoes", () => {
  const curve = (...shares: (number | null)[]): RepeatPoint[] => shares.map((share, i) => ({ afterSeconds: 15 * (i + 1), share }));
  const found = (...shares: (number | null)[]): number[] => echoes(curve(...shares)).map(({ afterSeconds }) => afterSeconds / 15);

  test("a maximum of a quarter or more", () => {
    expect(echoes(curve(0.5, 0, 0.25, 0.1, 0.24, 0.1, 0.6, 0.5))).toEqual([
      { afterSeconds: 45, share: 0.25 },
      { afterSeconds: 105, share: 0.6 },
    ]);
  });
  test("the first fall is none, however slow it begins", () => {
    expect(found(1, 1, 0.9, 0.9, 0.3)).toEqual([]);
    expect(found(1, 1, 1)).toEqual([]);
  });
  test("a level top counts once, at its first point; a level stretch on the way up or down is none", () => {
    expect(found(0.1, 0.5, 0.5, 0.5, 0.2)).toEqual([2]);
    expect(found(0.1, 0.3, 0.3, 0.4, 0.3, 0.3, 0.2)).toEqual([4]);
  });
  test("neither the end of the curve nor the edge of an undefined stretch is one", () => {
    expect(found(0.1, 0.5)).toEqual([]);
    expect(found(0.1, 0.5, null, 0.6, 0.5)).toEqual([]);
    expect(found(0.1, 0.5, 0.5, null)).toEqual([]);
    expect(found(null, 0.2, 0.5, 0.4)).toEqual([3]);
  });
});
