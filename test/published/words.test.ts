/** What a scenario and its figures are called in words; every sentence is written out beside what it is about. */
import { describe, expect, test } from "vitest";
import { flatReturns, flatStays } from "../../reports/flatcurves.js";
import { moverInWords } from "../../reports/movers.js";
import { fiveSentences } from "../../reports/sentences.js";
import { counted, counterInWords, figureValue, limitInWords, openingInWords, sizeInWords, timerInWords, withUnit } from "../../reports/words.js";
import { figures, parseScenario, simulate, type Figures, type Scenario } from "../../sim/index.js";
import { toTheSecond, spokenDuration, percent, upTo } from "../../sim/units/text.js";

const read = (text: string): Scenario => parseScenario(`{ lampdrift: 1, title: Words, ${text} }`, "words.yaml");
const quartz = "timer: { kind: quartz, step: 60 s }";

describe("a display", () => {
  const sized = (houses: string, boards: number): string => {
    const all = Array.from({ length: boards }, (_, b) => `b${b}: { ${quartz}, counter: { kind: ring, steps: 2 }, outputs: { 0: a } }`);
    return sizeInWords(read(`houses: { ${houses} }, boards: { ${all.join(", ")} }`));
  };

  test("its size: zones are counted where there are any, houses without one aside", () => {
    expect(sized("a:", 1)).toBe("1 house, 1 board");
    expect(sized("a: , b:", 2)).toBe("2 houses, 2 boards");
    expect(sized("a: { zone: z }, b:", 1)).toBe("2 houses in 1 zone, 1 board");
    expect(sized("a: { zone: z }, b: { zone: z }, c: { zone: y }", 3)).toBe("3 houses in 2 zones, 3 boards");
  });

  test("its opening hours", () => {
    const opened = (opening: string): string => openingInWords(read(`opening: { ${opening} }, houses: { a: }, boards: { b: { ${quartz}, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } }`).opening);
    expect(opened('from: "10:00", until: "17:00", run: 1')).toBe("1 opening, every day 10:00 to 17:00, switched off overnight");
    expect(opened('days: [tue, wed, thu, fri, sat, sun], from: "10:00", until: "24:00", overnight: on')).toBe("30 openings, Tue Wed Thu Fri Sat Sun 10:00 to 24:00, on overnight");
    expect(opened('days: [sun], from: "9:30", until: "12:00", run: 2')).toBe("2 openings, Sun 09:30 to 12:00, switched off overnight");
  });
});

describe("a board", () => {
  const parts = "kind: astable, ra: 100k, rb: 100k, c: 100 uF";
  test.each([
    [parts, "ideal 555 type"],
    [`${parts}, chip: bipolar`, "bipolar 555 type"],
    [`${parts}, chip: cmos, divide: 16`, "CMOS 555 type, divided by 16"],
    [`${parts}, chip: ICM7555, trimmer: { value: 1M, in: rb }, dial: 35 %`, "ICM7555 timer, knob at 35 %"],
    [`${parts}, divide: 2, trimmer: { value: 1M, in: rb }, setTo: 80 s`, "ideal 555 type, divided by 2, knob set to 1 min 20 s"],
    ["kind: measured, step: 60 s", "as measured"],
    ["kind: quartz, step: 60 s", "quartz"],
    ["kind: carry, from: other", "carry of other"],
  ])("its timer: %s", (timer, words) => {
    const { boards } = read(`houses: { a: }, boards: { other: { ${quartz}, counter: { kind: ring, steps: 2 }, outputs: { 0: a } }, b: { timer: { ${timer} }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } }`);
    expect(timerInWords(boards[1]!.timer, boards)).toBe(words);
  });

  test.each([
    ["kind: ring, steps: 10", "ring of 10 steps"],
    ["kind: ring, steps: 10, powerUp: anywhere", "ring of 10 steps, starts anywhere"],
    ["kind: johnson, stages: 4", "Johnson, 4 stages, 8 steps"],
    ["kind: binary, bits: 3", "binary, 3 bits, 8 steps"],
    ["kind: lfsr, bits: 4, powerUp: anywhere", "shift register, 4 bits, 15 steps, starts anywhere"],
    ["kind: table, steps: [[0], [], [0]]", "table of 3 steps"],
    ["kind: shuffle, steps: [[0], []]", "shuffle of 2 rows"],
  ])("its counter: %s", (counter, words) => {
    expect(counterInWords(read(`houses: { a: }, boards: { b: { ${quartz}, counter: { ${counter} }, outputs: { 0: a } } }`).boards[0]!.counter)).toBe(words);
  });

  test("what moves its step", () => {
    expect(["quay.c", "old.quay.ra", "quay.reading", "quay.lamp"].map(moverInWords)).toEqual(["the capacitor", "resistor RA", "reading the stopwatch", "quay.lamp"]);
  });
});

describe("numbers", () => {
  test("of none, one and several", () => {
    expect([0, 1, 2, 0.5].map((n) => counted(n, "house"))).toEqual(["0 houses", "1 house", "2 houses", "0.5 houses"]);
    expect(counted(2, "day's work", "days' work")).toBe("2 days' work");
    expect([upTo(["a", "b", "c"], 3), upTo(["a", "b", "c", "d"], 3, 2)]).toEqual([["a", "b", "c"], ["a", "b", "2 more"]]);
  });

  test("with their units", () => {
    expect([[4e-7, "A"], [1500, "Ω"], [12, "V"], [0.25, "W"], [1.2345, "K"]].map(([value, unit]) => withUnit(value as number, unit as string)))
      .toEqual(["400 nA", "1.5 kΩ", "12 V", "250 mW", "1.23 K"]);
  });

  test("of limits: a least value is told as such, on either side of it; one that stands at its limit is not", () => {
    const told = (value: number, limit: number, least: boolean): string => limitInWords({ value, limit, unit: "V", share: least ? limit / value : value / limit });
    expect([told(12, 8, true), told(6, 8, true), told(6, 8, false), told(12, 8, false), told(8, 8, false)]).toEqual(["at least 8 V", "at least 8 V", "8 V", "8 V", "8 V"]);
  });

  test("of figures: whole ones in full, others with as many digits as matter, no time that nobody sees", () => {
    expect([0, 0.0999, 0.1, 12.34, 100].map((seconds) => figureValue(seconds, "s"))).toEqual(["0 s", "< 0.1 s", "100 ms", "12.3 s", "1 min 40 s"]);
    expect([123_456, 12.3456, 3].map((value) => figureValue(value, ""))).toEqual(["123456", "12.35", "3"]);
    expect([figureValue(21.187, "per hour"), figureValue(0.5, "share")]).toEqual(["21.2", "50 %"]);
  });

  test("of durations and shares at the edges", () => {
    expect([172_740, 172_800, 176_400].map(spokenDuration)).toEqual(["47 h 59 min", "2 d", "2 d 1 h"]);
    expect([3599, 3600, 3660, 3661, 7325.4].map(toTheSecond)).toEqual(["59 min 59 s", "1 h", "1 h 1 min", "1 h 1 min 1 s", "2 h 2 min 5 s"]);
    expect([0.009_94, 0.01, 0.0123, 0.0001, 0.000_09].map(percent)).toEqual(["0.99 %", "1 %", "1.2 %", "0.01 %", "< 0.01 %"]);
  });
});

const scenario = read(`opening: { from: "10:00", until: "12:00", run: 2 }, visitors: { stay: 5 min, returns: [10 min, 30 min, 1 h] },
  houses: { ${Array.from({ length: 10 }, (_, i) => `h${i}: `).join(", ")} }, boards: { q: { ${quartz}, counter: { kind: ring, steps: 2 }, outputs: { 0: h0, 1: h1 } } }`);
const plain = figures(simulate(scenario));

describe("five sentences", () => {
  const dark = (lit: number): Figures["houses"] => plain.houses.map((house, h) => ({ ...house, litShare: h < lit ? 0.5 : 0 }));
  const told = (changed: Partial<Figures>): string[] => fiveSentences({ ...plain, ...changed }, scenario);

  test("houses that nothing lights, six by name, the others counted; none where nothing is ever lit", () => {
    const lit = { ...plain.lit, min: 0, max: 4, mean: 1.5 };
    expect(told({ lit, houses: dark(9) })[2]).toBe("Of 10 houses 0 to 4 are lit at once, 1.5 on average. Never lit: h9.");
    expect(told({ lit, houses: dark(4) })[2]).toMatch(/ Never lit: h4, h5, h6, h7, h8 and h9\.$/);
    expect(told({ lit, houses: dark(3) })[2]).toMatch(/ Never lit: h3, h4, h5, h6, h7, h8 and 1 more\.$/);
    expect(told({ lit: { ...lit, max: 0, mean: 0 }, houses: dark(0) })[2]).toBe("No house is ever lit.");
  });

  test("returns that meet the same scene, and those that never do", () => {
    const returning = (...shares: (number | null)[]): string =>
      told({ scenes: { ...plain.scenes, sameAtRandom: 0.125 }, repeat: { ...plain.repeat, returns: shares.map((share, i) => ({ afterSeconds: 600 * (i + 1), share })) } })[3]!;
    expect(returning(0.5, 0, 0)).toBe("A visitor who comes back meets the same scene 50 % of the time after 10 min, and never after 20 min or 30 min; by pure chance it would be 12.5 %.");
    expect(returning(0, 0.25, null)).toBe("A visitor who comes back meets the same scene 25 % of the time after 20 min, and never after 10 min; by pure chance it would be 12.5 %.");
    expect(returning(0, 0)).toBe("A visitor who comes back after 10 min or 20 min never meets the same scene; by pure chance it would be 12.5 %.");
  });

  test("how many scenes, how varied, how long they last", () => {
    const [first, second] = told({
      scenes: { ...plain.scenes, distinct: 7, changes: 90, changesPerHour: 45.67, effective: 5.123, even: 6, shortestSeconds: 20, medianSeconds: 50, longestSeconds: 200 },
      anyHour: { fewestScenes: 4 },
    });
    expect(first).toBe("The display shows 7 different scenes, and no hour shows fewer than 4. Who looks twice, at any two moments, sees the same scene once in 5.12 times.");
    expect(second).toBe("The scene changes 45.7 times an hour; half of the scenes last 50 s or more, the longest 3 min 20 s.");
  });
});

describe("curves that would be empty pictures", () => {
  const returns = (shares: readonly (number | null)[]): string | null =>
    flatReturns({ ...plain, repeat: { ...plain.repeat, curve: shares.map((share, i) => ({ afterSeconds: 15 * (i + 1), share })) } });
  const stays = (...shares: (number | null)[]): string | null =>
    flatStays({ ...plain, visit: { ...plain.visit, repeatCurve: shares.map((share, i) => ({ staySeconds: 60 * (i + 1), share })) } });

  test("of returns: from where they lie on the ground to their end, unless that is late or nowhere", () => {
    // what is up to half a percent lies on the ground
    expect(returns([0.9, 0.1, 0, 0, null])).toBe("Coming back: the same scene is never met again, from 45 s to 1 min after the last look, reckoned every 15 s.");
    expect(returns([0.9, 0.005, 0, 0.004])).toBe("Coming back: the same scene is met again at most 0.5 % of the time, from 30 s to 1 min after the last look, reckoned every 15 s.");
    expect(returns([0.9, 0.1, 0, 0.006])).toBeNull();
    expect(returns([0.9, 0.1, 0])).toBeNull();
    // 39 points above the ground end at 9 min 45 s
    const falling = (points: number): (number | null)[] => [...new Array<number>(points).fill(0.5), 0, 0];
    expect(returns(falling(39))).toContain("from 10 min to 10 min 15 s");
    expect(returns(falling(40))).toBeNull();
  });

  test("of stays: all of them, or a picture", () => {
    expect(stays(0, 0, null)).toBe("Staying: nobody who stays up to 2 min sees a scene come back before leaving.");
    expect(stays(0, 0.005)).toBe("Staying: of those who stay up to 2 min, at most 0.5 % see a scene come back before they leave.");
    expect(stays(0, 0.006)).toBeNull();
    expect(stays(null)).toBeNull();
  });
});
