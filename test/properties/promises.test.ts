import { describe, expect, test } from "vitest";
import type { SceneRecord } from "../../sim/engine/record.js";
import { simulate } from "../../sim/engine/simulate.js";
import { checkPromises, type PromiseResult } from "../../sim/promises/index.js";
import type { Promised } from "../../sim/model/scenario.js";
import { valueText } from "../../sim/promises/printing.js";
import { onlySide, promiseText } from "../../sim/promises/text.js";
import { ratings } from "../../sim/ratings/index.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { fewestScenesInAnyHour, houseFigures, litFigures, repeatShare, sceneFigures, visitFigures, zoneShares } from "../oracle/figures.js";
import { toYaml } from "../oracle/spec.js";
import { calmSeeds, randomDisplay } from "./randomdisplays.js";
import { often } from "../thorough.js";

const check = (text: string): PromiseResult[] => checkPromises(simulate(parseScenario(text, "promises.yaml"), { trace: true }));

/** Displays small enough to be counted by hand quickly. */
const seeds = calmSeeds(often(8, 16), 1500);

describe("promises on random displays, against an independent count", () => {
  test.each(seeds)("display %i", { timeout: 60_000 }, (seed) => {
    const { spec, shown } = randomDisplay(seed);
    const scenes = sceneFigures(spec, shown);
    const lit = litFigures(spec, shown);
    const dark = Math.max(...houseFigures(spec, shown).map(({ longestDarkSeconds }) => longestDarkSeconds));
    const whole = shown.openings.flatMap(({ spells }) => spells.slice(0, -1).map(({ from, until }) => (until - from) / 1e6));
    const [zone, zoneShare] = [...zoneShares(spec, shown)][0] ?? [null, 0];
    const limits: { line: (limit: number) => string; wanted: number | null; atMost: boolean; most?: number }[] = [
      { line: (limit) => `sceneLasts: { to: ${limit} }`, wanted: scenes.longestSeconds, atMost: true },
      { line: (limit) => `sceneLasts: { from: ${limit} }`, wanted: whole.length === 0 ? null : Math.min(...whole), atMost: false },
      { line: (limit) => `litHouses: { to: ${limit} }`, wanted: lit.max, atMost: true },
      { line: (limit) => `litHouses: { from: ${limit} }`, wanted: lit.min, atMost: false },
      { line: (limit) => `darkSpell: { atMost: ${limit} }`, wanted: dark, atMost: true },
      { line: (limit) => `anyHour: { atLeast: ${limit} }`, wanted: fewestScenesInAnyHour(shown), atMost: false },
      { line: (limit) => `effectiveScenes: { atLeast: ${limit} }`, wanted: scenes.effective, atMost: false },
      { line: (limit) => `repeatOnReturn: { after: 600, atMost: ${limit} }`, wanted: repeatShare(shown, 600), atMost: true, most: 1 },
      { line: (limit) => `repeatWithinStay: { stay: 900, atMost: ${limit} }`, wanted: visitFigures(shown, 900)?.repeatShare ?? null, atMost: true, most: 1 },
      ...(zone === null ? [] : [{ line: (limit: number) => `zoneLit: { zone: ${zone}, atLeast: ${limit} }`, wanted: zoneShare, atMost: false, most: 1 }]),
    ];
    // once just inside the limit and once just outside, where there is room on either side
    for (const side of [-1, 1]) {
      const lines = limits.map(({ line, wanted, most = Infinity }) => `  - ${line(Math.min(most, (wanted ?? 1) * (1 + side * 1e-4)))}`);
      const found = check(`${toYaml(spec)}promises:\n${lines.join("\n")}\n`);
      limits.forEach(({ line, wanted, atMost }, i) => {
        const what = line(0);
        if (wanted === null) {
          expect(found[i], what).toMatchObject({ kept: true, value: null });
          return;
        }
        expect(Math.abs(found[i]!.value! - wanted), what).toBeLessThanOrEqual(1e-9 * Math.max(1, wanted));
        const limit = found[i]!.limit;
        expect(found[i]!.kept, `${what}, limit ${limit}, found ${wanted}`).toBe(atMost ? wanted <= limit : wanted >= limit);
      });
    }
  });
});

const display = (promises: string, timer = "{ kind: quartz, step: 100 s }"): string => `lampdrift: 1
title: Small
opening: { from: "10:00", until: "10:10", run: 2 }
houses: { a: { zone: z }, b: , c: }
boards:
  one: { timer: ${timer}, counter: { kind: ring, steps: 4 }, outputs: { 0: a, 1: [a, b], 2: c } }
promises: [ ${promises} ]
`;
const tenOClock = 36_000_000_000;

describe("where a promise breaks first, worked by hand", () => {
  // steps of 100 s from 10:00: a; a b; c; nothing; a; a b, cut short by closing at 10:10
  test("too few houses lit: from the fourth step on", () => {
    expect(check(display("litHouses: { from: 1 }"))[0]).toMatchObject({ kept: false, value: 0, where: { at: tenOClock + 300_000_000 } });
  });

  test("a house too long in the dark: b, from the third step on", () => {
    const [result] = check(display("darkSpell: { atMost: 250 s }"));
    expect(result).toMatchObject({ kept: false, value: 300, where: { at: tenOClock + 200_000_000 } });
    expect(result!.where!.what).toContain("house b");
  });

  test("a scene that lasts too long: the first", () => {
    expect(check(display("sceneLasts: { to: 99 s }"))[0]).toMatchObject({ kept: false, value: 100, where: { at: tenOClock } });
  });

  test("an hour that is not there is no broken promise", () => {
    expect(check(display("anyHour: { atLeast: 5 }"))[0]).toMatchObject({ kept: true, value: null });
  });

  test("steps: drift counts to the end of the run, holds as they are", () => {
    // 100 s grow by 10 % in 1000 h, in 20 min by 10 % · (1/3)/1000
    const [result] = check(display("step: { to: 100 s }", "{ kind: quartz, step: 100 s, drift: 10 %/1000 h }"));
    expect(result!.kept).toBe(false);
    expect(result!.value).toBeCloseTo(100 * (1 + (0.1 / 1000) * (20 / 60)), 6);
  });

  test("steps: the board that breaks the promise is named, the slowest or the fastest", () => {
    const two = display("step: { to: 200 s }, step: { from: 200 s }, step: { from: 90 s, to: 200 s }, step: { from: 200 s, to: 310 s }").replace(
      "promises:",
      "  two: { timer: { kind: quartz, step: 300 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: b } }\npromises:",
    );
    expect(check(two).map(({ where }) => where?.what)).toEqual([
      expect.stringMatching(/^board two: 5 min/),
      expect.stringMatching(/^board one: 1 min 40 s/),
      expect.stringMatching(/^board two: 5 min/),
      expect.stringMatching(/^board one: 1 min 40 s/),
    ]);
  });

  test("one side of a range is told by its limit; what has no range, or breaks no limit, stays as it is", () => {
    const range: Promised = { kind: "step", from: 10, to: 20 };
    expect(onlySide(range, 20)).toEqual({ ...range, from: null });
    expect(onlySide(range, 10)).toEqual({ ...range, to: null });
    expect(onlySide(range, null)).toBe(range);
    const dark: Promised = { kind: "darkSpell", atMost: 60 };
    expect(onlySide(dark, 60)).toBe(dark);
  });

  test("steps: the room's warmest and coldest moments both count", () => {
    const swinging = display("step: { from: 99 s }, step: { to: 101 s }", "{ kind: measured, step: 100 s, tempco: 0.2 %/K }").replace(
      "houses:",
      "room: { mean: 20 °C, swing: 4 K }\nhouses:",
    );
    expect(check(swinging).map(({ kept, value }) => ({ kept, value: Math.round(value! * 1e6) / 1e6 }))).toEqual([
      { kept: true, value: 99.2 },
      { kept: true, value: 100.8 },
    ]);
  });

  test("steps: a carry board's last a cycle of the board that clocks it, holds included", () => {
    const carried = display("step: { to: 100 s }, step: { from: 30 s }", "{ kind: quartz, step: 10 s }")
      .replace("counter: { kind: ring, steps: 4 }", "counter: { kind: table, steps: [[0], [1], [2]], hold: [1, 2, 5] }")
      .replace("promises:", "  two: { timer: { kind: carry, from: one }, counter: { kind: ring, steps: 2 }, outputs: { 0: b } }\npromises:");
    const results = check(carried);
    expect(results.map(({ kept, value }) => ({ kept, value }))).toEqual([
      { kept: true, value: 80 },
      { kept: false, value: 10 },
    ]);
    expect(results[1]!.where!.what).toContain("board one: 10 s");
  });

  test("steps: opposed temperature coefficients put the longest step inside the range", () => {
    // R·(1 + 0.01·w)·C·(1 − 0.01·w) with w from 25 °C: longest at 25 °C, where it is ln 2·2·1 MΩ·100 µF
    const opposed = display(
      "step: { to: 1 min }",
      "{ kind: astable, ra: { value: 1e-9, tempco: 1 %/K }, rb: { value: 1M, tempco: 1 %/K }, c: { value: 100 uF, tempco: -1 %/K } }",
    ).replace("houses:", "room: { mean: 22 °C, swing: 8 K }\nhouses:");
    const [result] = check(opposed);
    expect(result!.value).toBeCloseTo(Math.LN2 * 2e6 * 1e-4, 6);
    expect(result!.where!.what).toContain("at 25 °C");
  });

  test("the first hour with too few scenes", () => {
    // steps of 10 min from 10:00 to 13:00: a; a b; c; nothing; … all four in any hour
    const hours = display("anyHour: { atLeast: 4 }, anyHour: { atLeast: 5 }", "{ kind: quartz, step: 10 min }").replace("10:10", "13:00");
    const [enough, few] = check(hours);
    expect(enough).toMatchObject({ kept: true, value: 4, where: null });
    expect(few).toMatchObject({ kept: false, value: 4, limit: 5, where: { at: tenOClock } });
    expect(few!.where!.what).toContain("4 different scenes");
  });

  test("spells cut short by closing count for the upper limit only", () => {
    // steps of 130 s: the last spell of a day lasts only from 10:08:40 to closing at 10:10
    const [from, to] = check(display("sceneLasts: { from: 130 s }, sceneLasts: { to: 129 s }", "{ kind: quartz, step: 130 s }"));
    expect(from).toMatchObject({ kept: true, value: 130 });
    expect(to).toMatchObject({ kept: false, value: 130, where: { at: tenOClock } });
  });
});

describe("both ends of a range", () => {
  const quartz = "{ kind: quartz, step: 100 s, tolerance: 0 }";

  test("kept: the end that is nearer is told", () => {
    const [near, far] = check(display("step: { from: 90 s, to: 200 s }, step: { from: 10 s, to: 110 s }", quartz));
    expect(near).toMatchObject({ kept: true, value: 100, limit: 90 });
    expect(far).toMatchObject({ kept: true, value: 100, limit: 110 });
  });

  test("broken on both sides: the one that is further beyond", () => {
    const held = (promise: string): PromiseResult =>
      check(display(promise, quartz).replace("{ kind: ring, steps: 4 }", "{ kind: table, steps: [[0], [1], [2]], hold: [1, 2, 3] }"))[0]!;
    expect(held("step: { from: 150 s, to: 200 s }")).toMatchObject({ kept: false, value: 300, limit: 200 });
    expect(held("step: { from: 290 s, to: 299 s }")).toMatchObject({ kept: false, value: 100, limit: 290 });
  });

  test("where every spell is cut short, only the upper one counts", () => {
    // one step outlasts the opening of 10 min
    const slow = "{ kind: quartz, step: 1 h }";
    const [range, from] = check(display("sceneLasts: { from: 700 s, to: 1000 s }, sceneLasts: { from: 700 s }", slow));
    expect(range).toMatchObject({ kept: true, value: 600, limit: 1000 });
    expect(from).toMatchObject({ kept: true, value: null, limit: 700, where: null });
  });

  test("too many houses: from the second step on", () => {
    const [result] = check(display("litHouses: { from: 0, to: 1 }", quartz));
    expect(result).toMatchObject({ kept: false, value: 2, limit: 1, where: { at: tenOClock + 100_000_000, what: "lit: a, b" } });
  });
});

describe("more first breaks, worked by hand", () => {
  test("a spell that closing cuts short is not the one that is too short", () => {
    // steps of 410 s, on through the night: day 1 shows 410 s and 190 s (cut); 86400 s later a step has 110 s left to run
    const through = display("sceneLasts: { from: 250 s }", "{ kind: quartz, step: 410 s }").replace("run: 2", "run: 2, overnight: on");
    expect(check(through)[0]).toMatchObject({ kept: false, value: 80 + 30, limit: 250, where: { at: 86_400_000_000 + tenOClock } });
  });

  test("a scene that ends as the hour begins is not in it", () => {
    // 20 min each: a; b; c; b; c; b: from 10:20 to 11:20 only b and c
    const rows = "{ kind: table, steps: [[0], [1], [2], [1], [2], [1]] }";
    const hours = display("anyHour: { atLeast: 3 }", "{ kind: quartz, step: 20 min }")
      .replace("10:10", "12:00")
      .replace("{ kind: ring, steps: 4 }", rows)
      .replace("[a, b]", "b");
    expect(check(hours)[0]).toMatchObject({ kept: false, value: 2, where: { at: tenOClock + 20 * 60_000_000 } });
  });

  test("a timer that quickens is shortest at the end, and longest when new", () => {
    const [from, to] = check(display("step: { from: 100 s }, step: { to: 100 s }", "{ kind: quartz, step: 100 s, drift: -10 %/1000 h }"));
    expect(from!.kept).toBe(false);
    expect(from!.value).toBeCloseTo(100 * (1 - (0.1 / 1000) * (20 / 60)), 6);
    expect(to).toMatchObject({ kept: true, value: 100 });
  });

  test("a divided timer: 16 periods, each rounded by itself; the room is not named where it does not matter", () => {
    const timer = "{ kind: astable, ra: { value: 10k, tempco: 0 }, rb: { value: 10k, tempco: 0 }, c: { value: 10 uF, tempco: 0 }, divide: 16 }";
    const [result] = check(display("step: { to: 1 s }", timer).replace("houses:", "room: { mean: 20 °C, swing: 4 K }\nhouses:"));
    expect(result!.value).toBe((16 * Math.round(Math.LN2 * 3e4 * 1e-5 * 1e6)) / 1e6);
    expect(result!.where!.what).not.toContain("°C");
  });

  test("promises about the run as a whole have no first break", () => {
    const broken = "effectiveScenes: { atLeast: 50 }, repeatOnReturn: { after: 24 h, atMost: 99 % }, repeatWithinStay: { stay: 9 min, atMost: 0 }, zoneLit: { zone: z, atLeast: 90 % }";
    for (const { kept, where } of check(display(broken))) expect({ kept, where }).toEqual({ kept: false, where: null });
  });

  test("what cannot be looked at is kept: a return while closed, a stay longer than the opening", () => {
    const nothing = "repeatOnReturn: { after: 1 h, atMost: 0 }, repeatWithinStay: { stay: 11 min, atMost: 0 }";
    for (const { kept, value } of check(display(nothing))) expect({ kept, value }).toEqual({ kept: true, value: null });
  });
});

describe("ratings", () => {
  // 20 mA a house, at most two at once: 40 mA, first on day 1 at 10:01:40; the supply's rows are the fullest
  const recorded = (limit: string, traced = true): SceneRecord => {
    const text = display("ratings: within").replace("houses:", `supply: { limit: ${limit} }\nlamps: { bulb: { amps: 20 mA } }\nhouses:`);
    return simulate(parseScenario(text, "promises.yaml"), { trace: traced });
  };
  const supplied = (limit: string, traced = true): PromiseResult => checkPromises(recorded(limit, traced))[0]!;

  test("close to a limit is kept, over it is broken, first where it happens", () => {
    // beside the lamps the supply feeds the board itself
    const record = recorded("1 A");
    const own = ratings(record.scenario, record).find(({ what }) => what === "supply current, worst moment")!.value - 0.04;
    expect(supplied(`${42e-3 + own} A`)).toMatchObject({ kept: true, value: expect.closeTo((0.04 + own) / (0.042 + own), 9) as number, limit: 1, where: null });
    const over = supplied("30 mA");
    expect(over).toMatchObject({ kept: false, limit: 1, where: { at: tenOClock + 100_000_000, what: "supply current, worst moment, supply" } });
    expect(over.value).toBeCloseTo((0.04 + own) / 0.03, 9);
  });

  test("a record without a trace gives the same", () => {
    expect(supplied("30 mA", false)).toEqual(supplied("30 mA"));
  });
});

describe("a timer that stalls", () => {
  const kinds = [
    ["step: { from: 1 s, to: 9 min }", 540],
    ["step: { from: 1 s }", 1],
    ["sceneLasts: { to: 2 h }", 7200],
    ["litHouses: { from: 0 }", 0],
    ["darkSpell: { atMost: 1 h }", 3600],
    ["anyHour: { atLeast: 0 }", 0],
    ["repeatOnReturn: { after: 24 h, atMost: 100 % }", 1],
    ["zoneLit: { zone: z, atLeast: 0 }", 0],
    ["ratings: within", 1],
  ] as const;

  // (V/3)/(RA + RB) = 3.636 µA
  const leaky = (tempco: string): string =>
    `{ kind: astable, ra: { value: 100k, tempco: ${tempco} }, rb: { value: 1M, tempco: ${tempco} }, c: { value: 10 uF, tempco: 0, leakage: { typical: 0.1 uA, limit: 3.6 uA } } }`;
  const most = { number: 1, deviations: new Map([["one.leakage", 1]]) };

  test("even at the room's warmest moment only breaks every promise", () => {
    // 3.6 µA through 1.1 MΩ is 3.96 V of 4 V, and 2 % more where the room is 2 K warmer
    const text = display(kinds.map(([promise]) => promise).join(", "), leaky("1 %/K")).replace("houses:", "room: { mean: 25 °C, swing: 2 K }\nhouses:");
    const scenario = parseScenario(text, "promises.yaml");
    const results = checkPromises(simulate(scenario, { build: most }), most);
    kinds.forEach(([promise, limit], i) => {
      expect(results[i], promise).toMatchObject({ kept: false, value: null, limit, where: { at: null, what: "the timer of board one stalls" } });
    });
    expect(checkPromises(simulate(scenario)).filter(({ kept }) => kept).length).toBeGreaterThan(5);
  });

  test("a hair below, it does not stall", () => {
    const scenario = parseScenario(display("litHouses: { from: 0 }", leaky("0")), "promises.yaml");
    expect(checkPromises(simulate(scenario, { build: most }), most)[0]).toMatchObject({ kept: true, value: 0 });
  });
});

test("a display of nearly two hundred thousand scenes is judged like any other", () => {
  const houses = Array.from({ length: 22 }, (_, i) => `h${i}`);
  const outputs = (first: number): string => Array.from({ length: 11 }, (_, i) => `${i}: h${first + i}`).join(", ");
  const text = `lampdrift: 1
title: Many
opening: { from: "10:00", until: "12:00", run: 1 }
houses: { ${houses.map((id) => `${id}: `).join(", ")} }
boards:
  one: { timer: { kind: quartz, step: 40 ms }, counter: { kind: lfsr, bits: 11 }, outputs: { ${outputs(0)} } }
  two: { timer: { kind: quartz, step: 57 ms }, counter: { kind: lfsr, bits: 11 }, outputs: { ${outputs(11)} } }
promises: [ litHouses: { from: 0 }, litHouses: { to: 22 } ]
`;
  const record = simulate(parseScenario(text, "many.yaml"));
  expect(record.scenes.length).toBeGreaterThan(190_000);
  // all ones at switch-on; a shift register never holds none
  const [from, to] = checkPromises(record);
  expect(to).toMatchObject({ kept: true, value: 22 });
  expect(from).toMatchObject({ kept: true, value: Array.from({ length: record.scenes.length }, (_, scene) => record.scenes.count(scene)).reduce((least, n) => Math.min(least, n), 99) });
  expect(from!.value).toBeGreaterThanOrEqual(2);
});

test.each<[Promised, string, string]>([
  [{ kind: "litHouses", from: 1, to: null }, "at least 1 house is lit at any moment", "1 house"],
  [{ kind: "litHouses", from: null, to: 1 }, "at most 1 house is lit at any moment", "1 house"],
  [{ kind: "litHouses", from: 1, to: 4 }, "1 to 4 houses are lit at any moment", "1 house"],
  [{ kind: "anyHour", atLeast: 1 }, "any hour shows at least 1 different scene", "1 scene"],
])("of one thing a promise speaks as of one: %j", (promised, text, one) => {
  expect(promiseText(promised)).toBe(text);
  expect(valueText(1, null, promised.kind === "litHouses" ? "houses" : "scenes")).toBe(one);
});
