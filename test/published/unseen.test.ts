import { expect, test } from "vitest";
import { oneIn } from "../../sim/statistics/unseen.js";

// S. S. Wilks, Ann. Math. Stat. 12 (1941) 91-96: 59 draws are the fewest of which one lies beyond 95 % with 95 % confidence
test("59 draws show what one case in 20 does, 58 do not", () => {
  expect(oneIn(59)).toBe(20);
  expect(oneIn(58)).toBe(19);
});

// the rule of three: 3/n, a little less for small n (−ln 0.05 = 2.9957)
test.each([300, 1500, 30_000])("%i draws show one case in about a third as many", (draws) => {
  expect(oneIn(draws)! / (draws / 2.9957)).toBeCloseTo(1, 2);
});

test("no draw shows nothing", () => {
  expect(oneIn(0)).toBeNull();
});
