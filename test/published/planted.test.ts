import { describe, expect, test } from "vitest";
import { hunt } from "../../sim/hunt/index.js";
import { parseScenario } from "../../sim/scenario/read.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { spread, wilson } from "../../sim/spread/index.js";
import { often } from "../thorough.js";

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

  const BUILDS = often(1000, 4000);
  test("the yield is that of the closed form", async () => {
    const { promises } = await spread(scenario, { builds: BUILDS, workers: 1 });
    // 4.9 standard deviations: missed by a sound draw about once in a million times
    const sd = Math.sqrt((0.75 * 0.25) / BUILDS);
    expect(Math.abs(promises[0]!.share - 0.75)).toBeLessThan(4.9 * sd);
    expect(promises[0]!.low).toBeLessThan(promises[0]!.share);
    expect(promises[0]!.high).toBeGreaterThan(promises[0]!.share);
  });

  test("95 % intervals hold the true yield as often as they should", async () => {
    const [builds, seeds] = [40, often(50, 150)];
    const holds = (kept: number): boolean => {
      const { low, high } = wilson(kept, builds);
      return low <= 0.75 && 0.75 <= high;
    };
    // what a Wilson interval of 40 really covers at 0.75, summed over the binomial distribution
    let covered = 0;
    let chance = 0.25 ** builds;
    for (let kept = 0; kept <= builds; kept++) {
      if (holds(kept)) covered += chance;
      chance *= ((builds - kept) / (kept + 1)) * 3;
    }
    expect(covered).toBeGreaterThan(0.9);
    let held = 0;
    for (let seed = 0; seed < seeds; seed++) {
      const { promises } = await spread({ ...scenario, seed: `seed ${seed}` }, { builds, workers: 1 });
      if (holds(promises[0]!.kept)) held++;
    }
    // about once in a million times
    expect(Math.abs(held / seeds - covered)).toBeLessThan(4.9 * Math.sqrt((covered * (1 - covered)) / seeds));
  });

  test("it is the second build looked at, all parts at their upper limits, that breaks it", async () => {
    expect((await hunt(scenario, { tries: 2 }))[0]).toMatchObject({ broken: true, tries: 2 });
    expect((await hunt(scenario, { tries: 1 }))[0]).toMatchObject({ broken: false, tries: 1 });
    // which stays so while another promise is still looked at
    const both = { ...scenario, promises: [...scenario.promises, ...planted({ rb: "1M", c: "100 uF" }, "litHouses: { from: 0 }").promises] };
    expect((await hunt(both, { tries: 60 })).map(({ broken, tries }) => [broken, tries])).toEqual([[true, 2], [false, 60]]);
  });

  test("the hunt finds the least capacitor that breaks it", async () => {
    const [quarry] = await hunt(scenario, { tries: 500 });
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

  test("the hunt names the one that needs less of its tolerance", async () => {
    const [quarry] = await hunt(planted(parts, `step: { to: ${limit} }`), { tries: 200 });
    expect(quarry!.build).toEqual({ "one.c": expect.closeTo(0.25, 6) as number });
  });

  test("whichever of them comes first", async () => {
    const wide = { rb: "1M ±50 %", c: "{ value: 100 uF, tolerance: ±6 %, leakage: 0 }" };
    const [quarry] = await hunt(planted(wide, `step: { to: ${limit} }`), { tries: 200 });
    expect(quarry!.build).toEqual({ "one.rb": expect.closeTo(0.0525 / 0.5, 6) as number });
  });
});

describe("either of two parts is enough, by nearly as much of their tolerance", () => {
  // 1.05 times nominal: RB at +5.25 %, C at +5 %; the hunt comes upon C first
  test.each([
    ["RB", 21, 19, { "one.rb": 0.0525 / 0.21 }],
    ["C", 20, 20, { "one.c": 0.05 / 0.2 }],
  ])("the hunt names the one that needs less: %s", async (_, rb, c, least) => {
    const parts = { rb: `1M ±${rb} %`, c: `{ value: 100 uF, tolerance: ±${c} %, leakage: 0 }` };
    const [quarry] = await hunt(planted(parts, `step: { to: ${1.05 * nominal} }`), { tries: 200 });
    expect(quarry!.build).toEqual(Object.fromEntries(Object.entries(least).map(([part, share]) => [part, expect.closeTo(share, 6)])));
  });
});

describe("a promise about what is seen", () => {
  // house b stays dark through the first step after switch-on: (ln 3·(RA + RB) + ln 2·RB)·C; 8 % more is 0.4 of ±20 %
  const first = (Math.log(3) * 1.1e6 + Math.LN2 * 1e6) * 1e-4;

  test("the hunt finds the least capacitor within 1 % of its tolerance", async () => {
    const scenario = planted(
      { rb: "{ value: 1M, tolerance: 0 }", c: "{ value: 100 uF, tolerance: ±20 %, leakage: 0 }" },
      `darkSpell: { atMost: ${1.08 * first} }`,
    );
    const [quarry] = await hunt(scenario, { tries: 200 });
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

  test("the hunt names both, just enough to break it", async () => {
    const [quarry] = await hunt(scenario, { tries: 500 });
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
  test("the hunt says how many it has looked at", async () => {
    const scenario = planted({ rb: "1M ±1 %", c: "{ value: 100 uF, tolerance: ±5 %, leakage: 0 }" }, `step: { to: ${1.07 * nominal} }`);
    const [quarry] = await hunt(scenario, { tries: 300 });
    expect(quarry).toMatchObject({ broken: false, build: null, tries: 300 });
    expect(quarry!.sentence).toContain("No build that breaks it was found in 300");
  });
});

/** RA, RB and C of ±20 % each; the step is ln 2·(RA + 2·RB)·C with `share` of the resistance in RA. */
const threeParts = (share: number, times: number): Scenario => {
  const [ra, rb] = [3e5 * share, (3e5 * (1 - share)) / 2];
  const text = `lampdrift: 1
title: Three parts
opening: { from: "10:00", until: "11:00", run: 1 }
houses: { a: , b: }
boards:
  other: { timer: { kind: quartz, step: 20 s, tolerance: 50 ppm }, counter: { kind: ring, steps: 2 }, outputs: { 0: b } }
  one:
    timer: { kind: astable, ra: { value: ${ra}, tolerance: ±20 % }, rb: { value: ${rb}, tolerance: ±20 % }, c: { value: 100 uF, tolerance: ±20 %, leakage: 0 } }
    counter: { kind: ring, steps: 2 }
    outputs: { 0: a }
promises: [ step: { to: ${times * Math.LN2 * 3e5 * 1e-4} } ]
`;
  return parseScenario(text, "three.yaml");
};

describe("the choice among several parts", () => {
  // RA has two thirds of the resistance. Enough for 1.25: RA and C ((1 + 2x/15)(1 + x/5), x = 0.71 of their tolerance) or
  // RB and C (x = 0.90); RA and RB reach 1.2 only
  test("of two pairs that would do, the one that needs less", async () => {
    const [quarry] = await hunt(threeParts(2 / 3, 1.25), { tries: 200 });
    expect(Object.keys(quarry!.build!).sort()).toEqual(["one.c", "one.ra"]);
    const x = quarry!.build!["one.c"]!;
    expect((1 + (2 * quarry!.build!["one.ra"]!) / 15) * (1 + x / 5)).toBeCloseTo(1.25, 7);
    expect(x + quarry!.build!["one.ra"]!).toBeLessThan(2 * 0.72);
  });

  // RA has a third: RB and C reach 1.36, RA and C 1.28, RA and RB 1.2, all three 1.44
  test("three where no two are enough, and nothing of a board that has no part in it", async () => {
    const [quarry] = await hunt(threeParts(1 / 3, 1.4), { tries: 200 });
    expect(Object.keys(quarry!.build!).sort()).toEqual(["one.c", "one.ra", "one.rb"]);
    const { "one.c": c, "one.ra": ra, "one.rb": rb } = quarry!.build! as Record<"one.c" | "one.ra" | "one.rb", number>;
    expect((1 + (0.2 * ra + 0.4 * rb) / 3) * (1 + 0.2 * c)).toBeCloseTo(1.4, 7);
  });
});

describe("a leaking capacitor", () => {
  const leaking = (promise: string): Scenario =>
    planted({ rb: "{ value: 1M, tolerance: 0 }", c: "{ value: 10 uF, tolerance: 0, leakage: { typical: 0.1 uA, limit: 5 uA } }" }, promise);

  // the timer stalls from (V/3)/(RA + RB) = 4 V/1.1 MΩ = 3.636 µA on: as a deviation 2·3.636/5 − 1
  test("that stalls the timer is found, and told as such", async () => {
    const [quarry] = await hunt(leaking("step: { from: 1 s }"), { tries: 100 });
    expect(quarry!.build).toEqual({ "one.leakage": expect.closeTo((2 * 4) / 1.1 / 5 - 1, 6) as number });
    expect(quarry!.value).toBeNull();
    expect(quarry!.sentence).toMatch(/ Enough: one\.leakage of 3\.64 µA; all else nominal\. A timer stalls\.$/);
  });

  // at 0.3 µA: R1·C·ln((V∞ − V/3)/(V∞ − 2V/3)) + R2·C·ln((2V/3 + I·R2)/(V/3 + I·R2)), V∞ = V − I·R1
  test("the least leakage that breaks a promise lies just above the typical one, not half way to the limit", async () => {
    const at = (amps: number): number =>
      11 * Math.log((12 - 1.1e6 * amps - 4) / (12 - 1.1e6 * amps - 8)) + 10 * Math.log((8 + 1e6 * amps) / (4 + 1e6 * amps));
    const [quarry] = await hunt(leaking(`step: { to: ${at(0.3e-6)} }`), { tries: 100 });
    expect(quarry!.build).toEqual({ "one.leakage": expect.closeTo((2 * 0.3) / 5 - 1, 5) as number });
  });
});

describe("what is told of a part", () => {
  const board = async (timer: string, promise: string): Promise<string> => {
    const text = `lampdrift: 1
title: Told
opening: { from: "10:00", until: "11:00", run: 1 }
houses: { a: }
boards: { one: { timer: ${timer}, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } }
promises: [ ${promise} ]
`;
    return (await hunt(parseScenario(text, "told.yaml"), { tries: 50 }))[0]!.sentence;
  };
  const exact = "ra: { value: 100k, tolerance: 0 }, rb: { value: 1M, tolerance: 0 }";

  test("quartz: its error", async () => {
    expect(await board("{ kind: quartz, step: 100 s, tolerance: 50 ppm }", "step: { to: 100.003 }")).toContain("one.quartz at +30 ppm; all else nominal");
  });

  test("capacitor with lopsided limits: what it has lost of its value", async () => {
    const told = await board(`{ kind: astable, ${exact}, c: { value: 100 uF, tolerance: "+50/-20 %", leakage: 0 } }`, `step: { from: ${0.9 * nominal} }`);
    expect(told).toContain("one.c at −10 % (90 µF)");
  });

  // 3 % of the 5 % that Philips ICM7555 (31 Aug 1994, p. 339) allows
  test("chip: its error", async () => {
    const told = await board(`{ kind: astable, chip: cmos, ${exact}, c: { value: 100 uF, tolerance: 0, leakage: 0 } }`, `step: { to: ${1.03 * nominal} }`);
    expect(told).toMatch(/one\.chip at \+(3|2\.99|3\.0\d) %/);
  });

  test("nothing loose: one build only is looked at", async () => {
    expect(await board("{ kind: quartz, step: 100 s, tolerance: 0 }", "step: { to: 101 s }")).toContain("No build that breaks it was found in 1.");
  });
});
