import { describe, expect, test } from "vitest";
import { hunt } from "../../sim/hunt/index.js";
import { parseScenario } from "../../sim/scenario/read.js";
import type { Scenario } from "../../sim/scenario/model.js";
import { spread } from "../../sim/spread/index.js";

/**
 * Timers whose step time is ln 2·(RA + 2·RB)·C, so that the builds that break a promise about it are known in closed form
 * (TI NE555, SLFS022I, 8.3.2, with ln 2 for the printed 0.693).
 */
function planted(parts: { rb: string; c: string }, promise: string): Scenario {
  return parseScenario(
    `lampdrift: 1
title: Planted
seed: planted
opening: { from: "10:00", until: "11:00", run: 1 }
houses: { a: , b: }
boards:
  one:
    timer: { kind: astable, ra: { value: 100k, tolerance: 0 }, rb: ${parts.rb}, c: ${parts.c} }
    counter: { kind: ring, steps: 2 }
    outputs: { 0: a, 1: b }
promises: [ ${promise} ]
`,
    "planted.yaml",
  );
}

const nominal = Math.LN2 * (1e5 + 2 * 1e6) * 1e-4; // 145.56 s

describe("one part decides", () => {
  // broken above C = 1.1·C0, half way to the limit of +20 %: a quarter of all builds
  const limit = 1.1 * nominal;
  const scenario = planted({ rb: "{ value: 1M, tolerance: 0 }", c: "{ value: 100 uF, tolerance: ±20 %, leakage: 0 }" }, `step: { to: ${limit} }`);

  test("the yield is that of the closed form", async () => {
    const { promises } = await spread(scenario, { builds: 4000, workers: 1 });
    // 4.9 standard deviations: missed by a sound draw about once in a million times
    const sd = Math.sqrt((0.75 * 0.25) / 4000);
    expect(Math.abs(promises[0]!.share - 0.75)).toBeLessThan(4.9 * sd);
    expect(promises[0]!.low).toBeLessThan(promises[0]!.share);
    expect(promises[0]!.high).toBeGreaterThan(promises[0]!.share);
  });

  test("the hunt finds the least capacitor that breaks it", () => {
    const [quarry] = hunt(scenario, { tries: 500 });
    expect(quarry!.broken).toBe(true);
    expect(Object.keys(quarry!.build!)).toEqual(["one.c"]);
    // half way, but for the microsecond to which a step is rounded: 3·10⁻⁸ of the tolerance
    expect(Math.abs(quarry!.build!["one.c"]! - 0.5)).toBeLessThan(1e-7);
    expect(quarry!.value).toBeGreaterThan(limit);
    expect(quarry!.sentence).toMatch(/^Promise broken: every step after the first lasts at most .*\. Enough: one\.c at \+10(\.\d+)? % \(110 µF\); all else nominal\. Found: /);
  });
});

describe("either of two parts is enough", () => {
  // 1.05 times nominal: RB at (1.05·2.1 − 0.1)/2 − 1 = +5.25 %, of ±6 %; C at +5 %, of ±20 %
  const limit = 1.05 * nominal;
  const parts = { rb: "1M ±6 %", c: "{ value: 100 uF, tolerance: ±20 %, leakage: 0 }" };

  test("the hunt names the one that needs less of its tolerance", () => {
    const [quarry] = hunt(planted(parts, `step: { to: ${limit} }`), { tries: 200 });
    expect(quarry!.build).toEqual({ "one.c": expect.closeTo(0.25, 6) as number });
  });

  test("whichever of them comes first", () => {
    const wide = { rb: "1M ±50 %", c: "{ value: 100 uF, tolerance: ±6 %, leakage: 0 }" };
    const [quarry] = hunt(planted(wide, `step: { to: ${limit} }`), { tries: 200 });
    expect(quarry!.build).toEqual({ "one.rb": expect.closeTo(0.0525 / 0.5, 6) as number });
  });
});

describe("a promise about what is seen", () => {
  // house b stays dark through the first step after switch-on: (ln 3·(RA + RB) + ln 2·RB)·C; 8 % more is 0.4 of ±20 %
  const first = (Math.log(3) * 1.1e6 + Math.LN2 * 1e6) * 1e-4;

  test("the hunt finds the least capacitor within 1 % of its tolerance", () => {
    const scenario = planted(
      { rb: "{ value: 1M, tolerance: 0 }", c: "{ value: 100 uF, tolerance: ±20 %, leakage: 0 }" },
      `darkSpell: { atMost: ${1.08 * first} }`,
    );
    const [quarry] = hunt(scenario, { tries: 200 });
    expect(Object.keys(quarry!.build!)).toEqual(["one.c"]);
    expect(quarry!.build!["one.c"]).toBeGreaterThan(0.4 - 1e-6);
    expect(quarry!.build!["one.c"]).toBeLessThan(0.41);
    expect(quarry!.value).toBeGreaterThan(1.08 * first);
  });
});

describe("two parts are needed", () => {
  // each alone reaches 1.19 (RB: (0.1 + 2·1.2)/2.1) and 1.2 times nominal; both together 1.43
  const limit = 1.3 * nominal;
  const scenario = planted({ rb: "1M ±20 %", c: "{ value: 100 uF, tolerance: ±20 %, leakage: 0 }" }, `step: { to: ${limit} }`);

  test("the hunt names both, just enough to break it", () => {
    const [quarry] = hunt(scenario, { tries: 500 });
    expect(Object.keys(quarry!.build!).sort()).toEqual(["one.c", "one.rb"]);
    const { "one.c": c, "one.rb": rb } = quarry!.build! as { "one.c": number; "one.rb": number };
    const times = ((0.1 + 2 * (1 + 0.2 * rb)) / 2.1) * (1 + 0.2 * c);
    expect(times).toBeGreaterThanOrEqual(1.3 - 1e-6);
    // a hundredth of the tolerance less of either would keep it
    expect(((0.1 + 2 * (1 + 0.2 * (rb - 0.01))) / 2.1) * (1 + 0.2 * c)).toBeLessThan(1.3);
    expect(((0.1 + 2 * (1 + 0.2 * rb)) / 2.1) * (1 + 0.2 * (c - 0.01))).toBeLessThan(1.3);
  });
});

describe("no build breaks it", () => {
  test("the hunt says how many it has looked at", () => {
    const scenario = planted({ rb: "1M ±1 %", c: "{ value: 100 uF, tolerance: ±5 %, leakage: 0 }" }, `step: { to: ${1.07 * nominal} }`);
    const [quarry] = hunt(scenario, { tries: 300 });
    expect(quarry).toMatchObject({ broken: false, build: null, tries: 300 });
    expect(quarry!.sentence).toContain("No build that breaks it was found in 300");
  });
});
