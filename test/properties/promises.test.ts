import { describe, expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import { checkPromises, type PromiseResult } from "../../sim/promises/index.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { fewestScenesInAnyHour, houseFigures, litFigures, repeatShare, sceneFigures, visitFigures, zoneShares } from "../oracle/figures.js";
import { spellsOf } from "../oracle/loop.js";
import { randomSpec } from "../oracle/random.js";
import { toYaml } from "../oracle/spec.js";

const check = (text: string): PromiseResult[] => checkPromises(simulate(parseScenario(text, "promises.yaml"), { trace: true }));

/** Displays small enough to be counted by hand quickly. */
const seeds = Array.from({ length: 40 }, (_, i) => i + 1)
  .filter((seed) => spellsOf(randomSpec(seed)).openings.reduce((count, opening) => count + opening.spells.length, 0) < 1500)
  .slice(0, 12);

describe("promises on random displays, against an independent count", () => {
  test.each(seeds)("display %i", { timeout: 60_000 }, (seed) => {
    const spec = randomSpec(seed);
    const shown = spellsOf(spec);
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
