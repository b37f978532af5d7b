import { describe, expect, test } from "vitest";
import { houseFigures, litFigures, sceneFigures, zoneShares } from "../oracle/figures.js";
import { randomDisplay } from "./randomdisplays.js";

const seeds = Array.from({ length: 20 }, (_, i) => i + 1);

/** Equal but for the rounding of sums, relative to numbers above 1. */
function expectNear(found: number, wanted: number, what: string): void {
  expect(Number.isFinite(found), `${what} is ${found}, not a number`).toBe(true);
  expect(Math.abs(found - wanted), `${what}: ${found}, by hand ${wanted}`).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(wanted)));
}

describe("figures against counting by hand, on random displays", () => {
  test.each(seeds)("display %i", (seed) => {
    const { spec, shown, found } = randomDisplay(seed);

    const scenes = sceneFigures(spec, shown);
    expect(found.scenes.distinct).toBe(scenes.distinct);
    expect(found.scenes.combinations).toBe(scenes.combinations);
    expect(found.scenes.changes).toBe(scenes.changes);
    const rates = ["changesPerHour", "sameAtRandom", "effective", "even", "shortestSeconds", "medianSeconds", "longestSeconds"] as const;
    for (const name of rates) expectNear(found.scenes[name], scenes[name], `scenes.${name}`);

    const houses = houseFigures(spec, shown);
    expect(found.houses.map((house) => house.id)).toEqual(houses.map((house) => house.id));
    found.houses.forEach((house, i) => {
      const wanted = houses[i]!;
      expect(house.lightings, `${house.id}: lightings`).toBe(wanted.lightings);
      expectNear(house.litShare, wanted.litShare, `${house.id}: litShare`);
      expectNear(house.longestDarkSeconds, wanted.longestDarkSeconds, `${house.id}: longestDarkSeconds`);
      expectNear(house.longestLitSeconds, wanted.longestLitSeconds, `${house.id}: longestLitSeconds`);
    });

    const zones = zoneShares(spec, shown);
    expect(found.zones.map((zone) => zone.zone).sort()).toEqual([...zones.keys()].sort());
    for (const { zone, litShare } of found.zones) expectNear(litShare, zones.get(zone)!, `zone ${zone}`);

    const lit = litFigures(spec, shown);
    expect(found.lit.min).toBe(lit.min);
    expect(found.lit.max).toBe(lit.max);
    expectNear(found.lit.mean, lit.mean, "lit.mean");
    expect(found.lit.shares.length).toBeLessThanOrEqual(lit.shares.length);
    // Counts that never occur may be left off at the end of the list.
    lit.shares.forEach((share, n) => expectNear(found.lit.shares[n] ?? 0, share, `lit.shares[${n}]`));
  });

  test.each(seeds)("display %i: boards", (seed) => {
    const { spec, shown, found: { boards: found } } = randomDisplay(seed);
    expect(found.map(({ id, steps, pulses }) => ({ id, steps, pulses }))).toEqual(
      shown.boards.map(({ id, steps }, b) => ({ id, steps, pulses: shown.pulses[b]! })),
    );
    found.forEach((board, b) => {
      const wanted = shown.boards[b]!;
      // Whole microseconds per timer period, or exact: the definitions allow both.
      const near = (value: number | null, seconds: number, what: string) => {
        expect(Math.abs(value! - seconds), `${board.id} ${what}: ${value}, by hand ${seconds}`).toBeLessThanOrEqual(1e-6 * (seconds + 1));
      };
      near(board.stepSeconds, wanted.stepSeconds, "stepSeconds");
      near(board.cycleSeconds, wanted.cycleSeconds, "cycleSeconds");
      const held = spec.boards[b]!.counter.kind === "table";
      if (wanted.firstStepSeconds !== null && !held) near(board.firstStepSeconds, wanted.firstStepSeconds, "firstStepSeconds");
    });
  });
});
