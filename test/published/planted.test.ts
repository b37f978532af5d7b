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
houses: { a: }
boards:
  one:
    timer: { kind: astable, ra: { value: 100k, tolerance: 0 }, rb: ${parts.rb}, c: ${parts.c} }
    counter: { kind: ring, steps: 2 }
    outputs: { 0: a }
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

  test("the hunt finds the least capacitor that breaks it, within 1 % of the tolerance", () => {
    const [quarry] = hunt(scenario, { tries: 500 });
    expect(quarry!.broken).toBe(true);
    expect(Object.keys(quarry!.build!)).toEqual(["one.c"]);
    expect(quarry!.build!["one.c"]).toBeGreaterThanOrEqual(0.5);
    expect(quarry!.build!["one.c"]).toBeLessThan(0.51);
    expect(quarry!.value).toBeGreaterThan(limit);
    expect(quarry!.sentence).toMatch(/^Promise broken: every step after the first lasts at most .*\. Enough: one\.c at \+10(\.\d+)? % \(110 µF\); all else nominal\. Found: /);
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
