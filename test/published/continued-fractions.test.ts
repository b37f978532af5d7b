import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { continuedFraction } from "../../sim/planning/continued.js";
import { boardPairs } from "../../sim/planning/pairs.js";
import { parseScenario } from "../../sim/scenario/read.js";

const GOLDEN = (1 + Math.sqrt(5)) / 2;

/** The convergents of a number as "p/q". */
function convergentsOf(number: number, depth?: number): string[] {
  const { convergents } = continuedFraction(number, 1, depth === undefined ? {} : { depth });
  return convergents.map(({ p, q }) => `${p}/${q}`);
}

describe("quotients", () => {
  test.each<[string, number, number[]]>([
    // Stored essay (to 103993/33102); OEIS A001203
    ["pi", Math.PI, [3, 7, 15, 1, 292, 1, 1, 1, 2]],
    // Same essay
    ["e", Math.E, [2, 1, 2, 1, 1, 4, 1, 1, 6]],
    // Computed with mpmath
    ["ln 3 / ln 2", Math.log(3) / Math.LN2, [1, 1, 1, 2, 2, 3, 1, 5]],
    ["log10 2", Math.log10(2), [0, 3, 3, 9, 2, 2, 4, 6]],
    // All ones, all twos after the first: elementary
    ["golden ratio", GOLDEN, Array.from({ length: 20 }, () => 1)],
    ["sqrt 2", Math.SQRT2, [1, ...Array.from({ length: 15 }, () => 2)]],
  ])("%s", (_, number, quotients) => {
    expect(continuedFraction(number, 1, { depth: quotients.length }).quotients).toEqual(quotients);
  });
});

describe("convergents", () => {
  test.each<[string, number, string]>([
    // Stored essay (to 103993/33102); OEIS A002485, A002486
    ["pi", Math.PI, "3/1 22/7 333/106 355/113 103993/33102 104348/33215"],
    // Same essay
    ["e", Math.E, "2/1 3/1 8/3 11/4 19/7 87/32 106/39 193/71 1264/465"],
    // Computed with mpmath
    ["sqrt 2", Math.SQRT2, "1/1 3/2 7/5 17/12 41/29 99/70 239/169 577/408"],
    ["golden ratio", GOLDEN, "1/1 2/1 3/2 5/3 8/5 13/8 21/13 34/21"],
    ["ln 3 / ln 2", Math.log(3) / Math.LN2, "1/1 2/1 3/2 8/5 19/12 65/41 84/53"],
    ["log10 2", Math.log10(2), "0/1 1/3 3/10 28/93 59/196 146/485"],
  ])("%s", (_, number, printed) => {
    const wanted = printed.split(" ");
    expect(convergentsOf(number, wanted.length)).toEqual(wanted);
  });

  // Hurwitz' constant 1/sqrt 5 for the golden ratio, 1/(2 sqrt 2) for sqrt 2; error times q squared, computed with mpmath
  test.each<[string, number, number, number, number]>([
    ["355/113", Math.PI, 355, 113, 0.00340631],
    ["233/144", GOLDEN, 233, 144, 0.447209],
    ["19601/13860", Math.SQRT2, 19601, 13860, 0.353553],
  ])("%s is one, with its known quality", (printed, number, p, q, quality) => {
    expect(convergentsOf(number)).toContain(printed);
    expect(Math.abs(number - p / q) * q * q).toBeCloseTo(quality, 5);
  });

  test("lie nearer than 1/(q_n q_n+1), in turn below and above; one of any two nearer than 1/(2 q_n^2)", () => {
    // The error bound as on a proof wiki; the rest as in stored notes on Legendre's theorem
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000_000 }), fc.integer({ min: 1, max: 10_000_000 }), (a, b) => {
        const { convergents } = continuedFraction(a, b);
        // Whole numbers: a/b − p/q is (a·q − p·b)/(b·q)
        const above = convergents.map(({ p, q }) => BigInt(a) * BigInt(q) - BigInt(p) * BigInt(b));
        const size = (n: bigint): bigint => (n < 0n ? -n : n);
        convergents.slice(0, -1).forEach(({ q }, n) => {
          const next = BigInt(convergents[n + 1]!.q);
          // Equal at the end of a fraction that comes out even
          expect(size(above[n]!) * next <= BigInt(b)).toBe(true);
          expect(n % 2 === 0 ? above[n]! > 0n : above[n]! < 0n).toBe(true);
          const near = (i: number): boolean => 2n * size(above[i]!) * BigInt(convergents[i]!.q) <= BigInt(b);
          expect(near(n) || near(n + 1)).toBe(true);
          expect(BigInt(q) <= next).toBe(true);
        });
      }),
      { seed: 3, numRuns: 300 },
    );
  });
});

describe("exact ratios and where to stop", () => {
  test("whole numbers come out even, whatever their common factor", () => {
    expect(continuedFraction(1700, 1560)).toEqual({
      quotients: [1, 11, 7],
      convergents: [{ p: 1, q: 1 }, { p: 12, q: 11 }, { p: 85, q: 78 }],
    });
    expect(continuedFraction(7, 7).convergents).toEqual([{ p: 1, q: 1 }]);
    expect(continuedFraction(3, 12).convergents).toEqual([{ p: 0, q: 1 }, { p: 1, q: 4 }]);
  });
  test("depth and precision", () => {
    expect(continuedFraction(Math.PI, 1, { depth: 2 }).quotients).toEqual([3, 7]);
    expect(continuedFraction(Math.PI, 1, { precision: 1e-3 }).convergents.at(-1)).toEqual({ p: 22, q: 7 });
    expect(continuedFraction(Math.PI, 1, { precision: 1e-6 }).convergents.at(-1)).toEqual({ p: 355, q: 113 });
    expect(continuedFraction(0.3, 0.1).convergents.at(-1)).toEqual({ p: 3, q: 1 });
  });
  test.each([0, -1, NaN, Infinity])("%d has none", (number) => {
    expect(() => continuedFraction(number)).toThrow(RangeError);
    expect(() => continuedFraction(1, number)).toThrow(RangeError);
  });
});

describe("pairs of boards", () => {
  const pairs = (boards: string): ReturnType<typeof boardPairs> =>
    boardPairs(parseScenario(`{ lampdrift: 1, title: Pairs, houses: { h: }, boards: { ${boards} } }`, "pairs.yaml"));
  const ring = (id: string, timer: string, steps: number): string =>
    `${id}: { timer: { ${timer} }, counter: { kind: ring, steps: ${steps} }, outputs: { 0: h } }`;

  test("come back in step after q rounds of one and p of the other", () => {
    // 1700 s and 1560 s: 85/78 = [1; 11, 7]
    const [pair] = pairs(`${ring("a", "kind: quartz, step: 170 s", 10)}, ${ring("b", "kind: quartz, step: 130 s", 12)}`);
    expect(pair).toMatchObject({ a: "a", b: "b", ratio: 85 / 78, locked: false });
    expect(pair!.approximations).toEqual([
      { p: 1, q: 1, afterSeconds: 1700, offSeconds: 140, offSteps: 140 / 130 },
      { p: 12, q: 11, afterSeconds: 18_700, offSeconds: -20, offSteps: 20 / 130 },
      { p: 85, q: 78, afterSeconds: 132_600, offSeconds: 0, offSteps: 0 },
    ]);
  });

  test("a fast board with a slow one has at least one approximation, whatever its size", () => {
    const [pair] = pairs(`${ring("a", "kind: quartz, step: 1 s", 2)}, ${ring("b", "kind: quartz, step: 1 h", 2)}`);
    expect(pair!.approximations).toEqual([{ p: 1, q: 3600, afterSeconds: 7200, offSeconds: 0, offSteps: 0 }]);
  });

  test("boards with one clock are locked, and come out even whatever the step time", () => {
    const found = pairs(
      [
        ring("a", "kind: astable, ra: 47k, rb: 220k, c: 220u", 6),
        ring("b", "kind: carry, from: a", 4),
        ring("c", "kind: carry, from: b", 3),
        ring("d", "kind: quartz, step: 100 s", 6),
      ].join(", "),
    );
    expect(found.map(({ a, b, locked }) => `${a}${b} ${locked}`)).toEqual(["ab true", "ac true", "ad false", "bc true", "bd false", "cd false"]);
    expect(found.map(({ ratio, locked }) => (locked ? 1 / ratio : 0))).toEqual([4, 12, 0, 3, 0, 0]);
    for (const { locked, approximations } of found) if (locked) expect(approximations.map(({ offSeconds }) => offSeconds)).toEqual([0]);
  });

  test("a shuffle has no cycle, and neither has a board that it clocks", () => {
    const shuffle = "s: { timer: { kind: quartz, step: 10 s }, counter: { kind: shuffle, steps: [[0], [1]] }, outputs: { 0: h } }";
    const found = pairs([shuffle, ring("t", "kind: carry, from: s", 3), ring("a", "kind: quartz, step: 3 s", 2), ring("b", "kind: quartz, step: 5 s", 2)].join(", "));
    expect(found.map(({ a, b }) => a + b)).toEqual(["ab"]);
  });
});
