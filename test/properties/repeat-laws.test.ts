import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import { fewestScenes } from "../../sim/figures/anyhour.js";
import { dayBeforeFigures, sameAsDayBefore } from "../../sim/figures/daybefore.js";
import { figures } from "../../sim/figures/index.js";
import { echoes, repeatAfter, repeatCurve, type RepeatPoint } from "../../sim/figures/repeat.js";
import { repeatWithin, stayCurve, visitFigures } from "../../sim/figures/visit.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { toYaml } from "../oracle/spec.js";
import { often } from "../thorough.js";
import { anyDays, expectNear, HOUR, lineOf, merged, MINUTE, recordOf, reversed, seeded, type Day } from "./records.js";
import { randomDisplay } from "./randomdisplays.js";

const RUNS = often(30, 100);

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
      seeded(RUNS),
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
      seeded(RUNS),
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
      seeded(RUNS),
    );
    expect(tried).toBe(RUNS);
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
      seeded(RUNS),
    );
  });

  test.each([8, 21])("a house that is never lit changes nothing (display %i)", (seed) => {
    const { spec, found: without } = randomDisplay(seed);
    const more = toYaml({ ...spec, houses: [...spec.houses, { id: "ruin" }] });
    const { repeat, visit, anyHour, scenes, lit } = figures(simulate(parseScenario(more, "spec.yaml")));
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

  test("the hour after a change, where every hour before is richer", () => {
    const lengths = [15, 15, 15, 15, 30, 30];
    const line = lineOf([{ gap: 0, spells: lengths.map((minutes, scene) => ({ scene, length: minutes * MINUTE })) }]);
    expect(fewestScenes(line, HOUR)).toBe(2);
    expect(fewestScenes(line, HOUR + 1)).toBe(3);
  });

  test("the day before the first day", () => {
    expect(dayBeforeFigures(oneHour)).toEqual({ firstHourShare: null, restShare: null, share: null });
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
