import { describe, expect, test } from "vitest";
import { hillOrder1, sameAtRandom, sceneFigures } from "../../sim/figures/scenes.js";
import { totals } from "../../sim/figures/totals.js";
import { recordOf } from "../properties/records.js";

function sharesOf(counts: readonly number[]): number[] {
  const all = counts.reduce((sum, n) => sum + n, 0);
  return counts.map((n) => n / all);
}

describe("Hill numbers", () => {
  // Data set dune of the R package vegan, site 1. diversity(dune[1,], "shannon"/"simpson"/"invsimpson"),
  // renyi(dune[1,], scales = c(0, 1, 2), hill = TRUE); scikit-bio agrees
  const dune = [1, 4, 7, 4, 2];

  test("of vegan's dune, site 1", () => {
    const shares = sharesOf(dune);
    expect(Math.log(hillOrder1(shares))).toBeCloseTo(1.44048174159249, 12);
    expect(hillOrder1(shares)).toBeCloseTo(4.2227295915584, 12);
    expect(1 - sameAtRandom(shares)).toBeCloseTo(0.734567901234568, 12);
    expect(1 / sameAtRandom(shares)).toBeCloseTo(3.76744186046512, 12);
    // Pielou's evenness, ln S below
    expect(Math.log(hillOrder1(shares)) / Math.log(5)).toBeCloseTo(0.895021628646683, 12);
  });

  test("of the same, as the time for which scenes are shown, in pieces and over two days", () => {
    const spell = (scene: number, minutes: number): { scene: number; length: number } => ({ scene, length: minutes * 60_000_000 });
    const record = recordOf([
      { gap: 0, spells: [spell(1, 3), spell(0, 1), spell(2, 4), spell(1, 1)] },
      { gap: 3_600_000_000, spells: [spell(2, 3), spell(4, 2), spell(3, 4)] },
    ]);
    const scenes = sceneFigures(record, totals(record));
    expect(scenes.distinct).toBe(5);
    expect(scenes.even).toBeCloseTo(4.2227295915584, 12);
    expect(scenes.effective).toBeCloseTo(3.76744186046512, 12);
    expect(scenes.sameAtRandom).toBeCloseTo(1 - 0.734567901234568, 12);
  });

  // diversity(p, base = 2) of vegan; 1.75 bits by hand
  test("of the dyadic shares 1/2 1/4 1/8 1/8", () => {
    const shares = [1 / 2, 1 / 4, 1 / 8, 1 / 8];
    expect(Math.log2(hillOrder1(shares))).toBeCloseTo(1.75, 14);
    expect(hillOrder1(shares)).toBeCloseTo(3.36358566, 8);
    expect(1 / sameAtRandom(shares)).toBeCloseTo(2.90909091, 8);
  });

  // Medina Valley Centre sheet, plant example: printed 0.79; exact value derived from the counts
  test("of the plant example", () => {
    const shares = sharesOf([15, 10, 104, 42, 55, 22, 9, 7, 17]);
    expect(1 - sameAtRandom(shares)).toBeCloseTo(0.786818809, 9);
    expect(Math.abs(1 - sameAtRandom(shares) - 0.79)).toBeLessThan(5e-3);
  });

  // Simpson page of geographyfieldwork: counts, N = 15, 1 − 64/210 from pairs without repetition.
  // With repetition the same pairs are (64 + 15) of 15²
  test("of the quadrat example", () => {
    const same = sameAtRandom(sharesOf([2, 8, 1, 1, 3]));
    expect((same * 225 - 15) / 210).toBeCloseTo(1 - 0.695238095, 9);
  });

  // M. O. Hill, Ecology 54 (1973) 427-432: every order of S equal shares is S
  test.each([1, 2, 10, 1800])("of %d equal shares", (kinds) => {
    const shares = Array.from({ length: kinds }, () => 1 / kinds);
    expect(hillOrder1(shares) / kinds).toBeCloseTo(1, 12);
    expect(1 / sameAtRandom(shares) / kinds).toBeCloseTo(1, 12);
  });

  test("do not see shares of nothing", () => {
    expect(hillOrder1([...sharesOf(dune), 0])).toBe(hillOrder1(sharesOf(dune)));
    expect(sameAtRandom([...sharesOf(dune), 0])).toBe(sameAtRandom(sharesOf(dune)));
  });
});
