/** What no other test looks at so closely; every expected value is worked out by hand beside it. */
import { describe, expect, test } from "vitest";
import { instantText } from "../../sim/engine/instant.js";
import { expectedPulses } from "../../sim/engine/limits.js";
import { dayBeforeFigures } from "../../sim/figures/daybefore.js";
import { figures, parseScenario, ratingNotes, simulate, type Build, type Scenario } from "../../sim/index.js";
import type { Promised } from "../../sim/model/scenario.js";
import type { AstableTimer } from "../../sim/model/timer.js";
import { evidenceOf } from "../../sim/promises/evidence.js";
import { litHouses } from "../../sim/promises/kinds/lithouses.js";
import { valueText } from "../../sim/promises/printing.js";
import { saidOnce } from "../../sim/ratings/once.js";
import { chipAmps } from "../../sim/ratings/own.js";
import { atLeast, atMost } from "../../sim/ratings/rating.js";
import { boardTimes } from "../../sim/timers/boardtimes.js";
import { NOMINAL } from "../../sim/timers/build.js";
import { clockwork, type Clockwork } from "../../sim/timers/clockwork.js";
import { WarmCurve } from "../../sim/timers/warmcurve.js";
import { lineOf, MINUTE, type Day } from "../properties/records.js";

const read = (text: string): Scenario => parseScenario(`{ lampdrift: 1, title: By hand, ${text} }`, "by-hand.yaml");
const built = (deviations: Readonly<Record<string, number>>): Build => ({ number: 1, deviations: new Map(Object.entries(deviations)) });

describe("the curve of a timer in a warm room", () => {
  const room = { mean: 20, swing: 10, warmest: 0 };
  /** A timer with this period, and this bound in a disc of so many kelvins. */
  const works = (period: (theta: number) => number, most: (reach: number) => number): Clockwork =>
    ({ period, most: (_: number, reach: number) => most(reach) }) as unknown as Clockwork;

  // interpolation of degree n is off by 4·M·ρ^−n/(ρ − 1) at most, M the bound in the ellipse of ρ (Trefethen, theorem 8.2, from
  // memory), whose half axes are (ρ ± 1/ρ)/2 quarters of an hour, π/48 of a day's circle each; |cos(a + ib)| ≤ cosh b. With n = 5,
  // rounding of 2^−44·M besides, that is to be below half of 1e-9 s
  test.each([32, 64, 96, 128, 160, 192, 224])("is there where the bound holds in the ellipse of %d quarters, and not a hundredth beyond", (rho) => {
    const radius = 10 * Math.cosh(((Math.PI / 48) * (rho - 1 / rho)) / 2);
    const largest = 0.5e-9 / ((4 * rho ** -5) / (rho - 1) + 2 ** -44);
    const curve = (most: number): WarmCurve | null => WarmCurve.of(works(() => 1, (reach) => (reach <= radius * (1 + 1e-12) ? most : Infinity)), room);
    expect(curve(0.99 * largest)).not.toBeNull();
    expect(curve(1.01 * largest)).toBeNull();
  });

  test("goes through every polynomial of degree 5 in the time of one half hour", () => {
    const micros = (u: number): number => 700 - 300 * u + 500 * u ** 2 + 200 * u ** 3 - 400 * u ** 4 + 600 * u ** 5;
    const day = 24 * 60 * MINUTE;
    // before noon the temperature falls from midnight on, and tells the time; the half hour from 5:30
    const middle = 5.75 * 60 * MINUTE;
    const timeAt = (theta: number): number => (Math.acos((theta - 20) / 10) / (2 * Math.PI)) * day;
    const curve = WarmCurve.of(works((theta) => micros((timeAt(theta) - middle) / (15 * MINUTE)) / 1e6, () => 1), room)!;
    for (const u of [-1, -0.83, -0.4, 0, 0.21, 0.5, 0.77]) expect(curve.period(9 * day + middle + u * 15 * MINUTE)).toBeCloseTo(micros(u), 6);
  });
});

describe("what a period does not exceed in a disc of complex temperatures", () => {
  const works = (timer: string, build = NOMINAL): Clockwork => {
    const { boards, supply, room } = read(`supply: { volts: 12 V }, houses: { a: }, boards: { b: { timer: { kind: astable, ${timer} },
      counter: { kind: ring, steps: 2 }, outputs: { 0: a } } }`);
    return clockwork("b", boards[0]!.timer as AstableTimer, supply.volts, room, build);
  };
  const most = (timer: string, reach: number): number => works(timer).most(25, reach);
  // |ln z| ≤ ln |z| + π, and voltages between V/3 − I·R and 2V/3 + I·R: (R1 + R2)·C·chip·(ln((2V/3 + I·R)/(V/3 − I·R)) + π)
  test("without leakage, parts that stay", () => {
    // RA + RB + RB = 500 kΩ, 100 µF: 50 s; the voltages' ratio is 2
    expect(most("ra: 100k, rb: 200k, c: 100u", 40)).toBeCloseTo(50 * (Math.log(2) + Math.PI), 9);
  });
  test("with a leakage that takes 1 V of the 4 V", () => {
    // 1 V over 300 kΩ: 3.3333 µA; (8 + 1)/(4 − 1) = 3
    expect(most("ra: 100k, rb: 200k, c: { value: 100u, leakage: 3.33333333333 uA }", 40)).toBeCloseTo(50 * (Math.log(3) + Math.PI), 6);
  });
  test("with a capacitor that grows by 0.1 % a kelvin, 40 K further", () => {
    expect(most("ra: 100k, rb: 200k, c: { value: 100u, tempco: 0.1 %/K }", 40)).toBeCloseTo(50 * 1.04 * (Math.log(2) + Math.PI), 9);
  });
  test("with a chip that is slow by its whole error, as much as the period itself", () => {
    const cmos = "chip: cmos, ra: 100k, rb: 200k, c: { value: 100u, leakage: 0 A }";
    const [usual, slow] = [works(cmos), works(cmos, built({ "b.chip": 1 }))];
    expect(slow.period(25) / usual.period(25)).toBeGreaterThan(1.009);
    expect(slow.most(25, 0) / usual.most(25, 0)).toBeCloseTo(slow.period(25) / usual.period(25), 9);
  });
});

test("a moment in words counts the openings of whole weeks, and leaves out fractions of a second", () => {
  const { opening } = read(`opening: { days: [tue, thu, sun], from: "09:00", until: "17:00" }, houses: { a: }, boards: { b: {
    timer: { kind: quartz, step: 60 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } }`);
  const at = (day: number, hours: number, minutes: number, seconds: number): string => instantText((((day * 24 + hours) * 60 + minutes) * 60 + seconds) * 1e6, opening);
  // day 0 is a Monday: the Tuesdays are days 1, 8, 15; three openings a week
  expect(at(1, 9, 0, 0)).toBe("opening 1 (Tue) at 09:00");
  expect(at(6, 16, 59, 59.99)).toBe("opening 3 (Sun) at 16:59:59");
  expect(at(8, 10, 15, 20)).toBe("opening 4 (Tue) at 10:15:20");
  expect(at(15, 16, 0, 0)).toBe("opening 7 (Tue) at 16:00");
  expect(at(17, 12, 0, 0.5)).toBe("opening 8 (Thu) at 12:00");
});

test("a count is told with four digits", () => {
  expect(valueText(12.3456, 10, "scenes")).toBe("12.35 scenes");
  expect(valueText(1234.56, 10, "scenes")).toBe("1235 scenes");
});

/** Three lamps at most, of 20 mA, behind a supply of so many; a 7-bit driver takes a little besides. */
const lampsBehind = (limit: string, promises: string): Scenario => read(`supply: { limit: ${limit} }, lamps: { l: { amps: 20 mA } },
  opening: { from: "10:00", until: "11:00", run: 1 }, houses: { a: , b: , c: }, promises: [${promises}],
  boards: { q: { timer: { kind: quartz, step: 60 s, tolerance: 1 % }, counter: { kind: ring, steps: 3 }, outputs: { 0: a, 1: b, 2: c } },
    r: { timer: { kind: quartz, step: 90 s, tolerance: 1 % }, counter: { kind: ring, steps: 3 }, outputs: { 0: a, 1: b, 2: c } } }`);

describe("the evidence of a build", () => {
  const kept = (scenario: Scenario): boolean[] =>
    [NOMINAL, built({ "q.quartz": 1 })].map((build) => {
      const look = evidenceOf(scenario, scenario.promises);
      return look(build).ratings.every(({ verdict }) => verdict !== "over");
    });

  test("holds every build to the ratings, where not all keep them anyway and where they do", () => {
    expect(kept(lampsBehind("10 mA", "ratings: within"))).toEqual([false, false]);
    expect(kept(lampsBehind("10 A", "ratings: within"))).toEqual([true, true]);
    expect(evidenceOf(lampsBehind("10 mA", "ratings: within"), [{ kind: "ratings" }])(NOMINAL).ratingsHold).toBe(false);
    expect(evidenceOf(lampsBehind("10 A", "ratings: within"), [{ kind: "ratings" }])(NOMINAL).ratingsHold).toBe(true);
  });

  test("follows the outputs only where a promise asks for them, and not all builds keep it anyway", () => {
    const traced = (limit: string, promises: string): boolean => {
      const scenario = lampsBehind(limit, promises);
      return evidenceOf(scenario, scenario.promises)(NOMINAL).measures.record.trace !== null;
    };
    expect(traced("10 mA", "ratings: within")).toBe(true);
    expect(traced("10 A", "ratings: within")).toBe(false);
    expect(traced("10 mA", "effectiveScenes: { atLeast: 2 }")).toBe(false);
    expect(traced("10 A", "effectiveScenes: { atLeast: 2 }")).toBe(false);
  });
});

test("a programmed board tells what its outputs must give, where it drives something", () => {
  const notes = (outputs: string): string[] => {
    const scenario = read(`lamps: { l: { amps: 20 mA } }, opening: { from: "10:00", until: "11:00", run: 1 }, houses: { a: },
      boards: { q: { timer: { kind: quartz, step: 60 s }, counter: { kind: table, steps: [[0], []] }, outputs: { ${outputs} } } }`);
    return ratingNotes(scenario, simulate(scenario, { trace: true })).filter(({ where }) => where === "q").map(({ text }) => text);
  };
  expect(notes("0: { house: a, lamp: l }").filter((text) => text.startsWith("The outputs are those of a programmed part"))).toHaveLength(1);
  expect(notes("").filter((text) => text.startsWith("The outputs are those of a programmed part"))).toEqual([]);
});

test("of a run that stands exactly at the limit of pulses, and has too many scenes, the memory is told", () => {
  // two counters of 10 bits with steps of 2.4 ms in 48,000 s: 20 million pulses each, and up to 1,024² scenes
  const houses = Array.from({ length: 20 }, (_, i) => `h${i}`);
  const counter = (own: readonly string[]): string =>
    `{ timer: { kind: quartz, step: 2.4 ms }, counter: { kind: binary, bits: 10 }, outputs: { ${own.map((house, i) => `${i}: ${house}`).join(", ")} } }`;
  const scenario = read(`opening: { from: "10:00", until: "11:20", run: 10 }, houses: { ${houses.map((house) => `${house}: `).join(", ")} },
    boards: { a: ${counter(houses.slice(0, 10))}, b: ${counter(houses.slice(10))} }`);
  expect(() => expectedPulses(scenario)).toThrow(/would need about 40,000,000 clock pulses, and with up to 1,048,576 scenes of 20 houses about/);
});

test("how alike days are in their first hour, later, and in all", () => {
  // scene 0 for an hour and then scene 1; the next day scene 0 for 45 min, scene 1 for 45 min, then scene 0 for 30 min:
  // alike for 45 of the first 60 minutes, and from the 60th to the 90th of the other 60
  const spells = (...minutes: number[]): Day["spells"] => minutes.map((length, i) => ({ scene: i % 2, length: length * MINUTE }));
  const line = lineOf([{ gap: 0, spells: spells(60, 60) }, { gap: 22 * 60 * MINUTE, spells: spells(45, 45, 30) }]);
  expect(dayBeforeFigures(line)).toEqual({ firstHourShare: 45 / 60, restShare: 30 / 60, share: 75 / 120 });
});

test("of a least value the share is how many times too small it is, below one, too", () => {
  const row = { what: "", where: "", unit: "V", source: "", advice: "more" };
  expect([0.5, 0.25, 2].map((value) => atLeast({ ...row, value, limit: 1 }).share)).toEqual([2, 4, 0.5]);
  expect([0.5, 2].map((limit) => atMost({ ...row, value: 1, limit }).share)).toEqual([2, 0.5]);
});

test("a counter that may wake up outside its cycle is told of with its gate, and no other", () => {
  const told = (counter: string): boolean => {
    const scenario = read(`opening: { from: "10:00", until: "11:00", run: 1 }, houses: { a: },
      boards: { q: { timer: { kind: quartz, step: 60 s }, counter: { ${counter} }, outputs: { 0: a } } }`);
    return ratingNotes(scenario, simulate(scenario, { trace: true })).some(({ text }) => text.startsWith("Without a reset the counter may wake up"));
  };
  expect(["kind: johnson, stages: 4, powerUp: anywhere", "kind: lfsr, bits: 4, powerUp: anywhere"].map(told)).toEqual([true, true]);
  // of two stages every state is in the cycle; a ring of one chip and a binary counter have no others
  expect(["kind: johnson, stages: 4", "kind: johnson, stages: 2, powerUp: anywhere", "kind: ring, steps: 4, powerUp: anywhere", "kind: binary, bits: 3, powerUp: anywhere"].map(told))
    .toEqual([false, false, false, false]);
});

test("notes that differ in a number are one: up to four numbers in a row, of more the least and the most", () => {
  const told = (...numbers: number[]): string => {
    const [note, ...others] = saidOnce(numbers.map((n, i) => ({ where: `b${i}`, text: `takes ${n} mA.` })));
    expect(others).toEqual([]);
    return `${note!.where} ${note!.text}`;
  };
  expect(told(7, 3, 5, 4)).toBe("b0, b1, b2 and b3 takes 7, 3, 5 and 4 mA.");
  expect(told(7, 3, 5, 4, 6)).toBe("b0, b1, b2, b3 and b4 takes 3 to 7 mA.");
  expect(told(7, 7, 7, 7, 7)).toBe("b0, b1, b2, b3 and b4 takes 7 mA.");
});

test("a promise about houses lit is first broken by the first spell, where that is wrong already", () => {
  const scenario = read(`opening: { from: "10:00", until: "11:00", run: 1 }, houses: { a: , b: }, promises: [litHouses: { to: 1 }, litHouses: { to: 2 }],
    boards: { q: { timer: { kind: quartz, step: 60 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: [a, b], 1: a } } }`);
  const look = evidenceOf(scenario, scenario.promises)(NOMINAL);
  const breaks = scenario.promises.map((promised) => litHouses.firstBreak(promised as Promised & { kind: "litHouses" }, look));
  expect(breaks).toEqual([{ at: 10 * 3600e6, what: "lit: a, b" }, null]);
});

test.each([32, 33, 64, 65])("%d houses one after the other: each is lit its share of the time", (count) => {
  const houses = Array.from({ length: count }, (_, i) => `h${i}`);
  const { scenes, houses: found } = figures(simulate(read(`opening: { from: "00:00", until: "24:00", run: 1 }, houses: { ${houses.map((house) => `${house}: `).join(", ")} },
    boards: { q: { timer: { kind: quartz, step: ${86_400 / count / 10} s }, counter: { kind: ring, steps: ${count} }, outputs: { ${houses.map((house, i) => `${i}: ${house}`).join(", ")} } } }`)));
  expect(scenes.distinct).toBe(count);
  for (const { litShare } of found) expect(litShare).toBeCloseTo(1 / count, 6);
});

describe("what a board's own chips take, and the first return of one that is held", () => {
  const board = (timer: string, counter = "{ kind: ring, steps: 2 }"): Scenario => read(`houses: { a: }, boards: { q: { timer: { ${timer} }, counter: ${counter}, outputs: { 0: a } },
    r: { timer: { kind: carry, from: q }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } }`);
  const parts = "kind: astable, ra: 100k, rb: 100k, c: { value: 10 uF, tempco: 0, leakage: 0 }";

  test("15 mA a bipolar timer and one that is not named, 1 mA a CMOS one, 0.6 mA each counter and divider", () => {
    // Fairchild LM555 rev 1.1.0, p. 3; the others from memory
    const milli = (timer: string): number => 1000 * chipAmps(board(timer).boards[0]!);
    expect(milli(parts)).toBeCloseTo(15.6, 9);
    expect(milli(`${parts}, chip: bipolar`)).toBeCloseTo(15.6, 9);
    expect(milli(`${parts}, chip: cmos`)).toBeCloseTo(1.6, 9);
    expect(milli(`${parts}, chip: cmos, divide: 16`)).toBeCloseTo(2.2, 9);
    expect(milli("kind: quartz, step: 60 s")).toBeCloseTo(15.6, 9);
    expect(1000 * chipAmps(board(parts).boards[1]!)).toBeCloseTo(0.6, 9);
  });

  test("a first step that is held is longer by as many times what charging from empty takes more", () => {
    // RA + RB = 200 kΩ, RB = 100 kΩ, 10 µF: ln 2·(2 + 1) s a step, ln 3·2 + ln 2 the first; held three, one and one
    const [, carried] = boardTimes(board(parts, "{ kind: table, steps: [[0], [], [0]], hold: [3, 1, 1] }"));
    expect(carried!.stepSeconds).toBeCloseTo(5 * 3 * Math.LN2, 9);
    expect(carried!.firstStepSeconds).toBeCloseTo(3 * (2 * Math.log(3) + Math.LN2) + 2 * 3 * Math.LN2, 9);
  });
});
