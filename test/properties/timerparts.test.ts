import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseRange, parseStock, planParts, PartsRequestError, scenarioLines, StockError, type Choice } from "../../sim/timerparts/index.js";
import { simulate } from "../../sim/engine/simulate.js";
import { ratings } from "../../sim/ratings/index.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { boardTimes } from "../../sim/timers/boardtimes.js";
import { often } from "../thorough.js";

const SETTINGS = { seed: 20240612, numRuns: often(7, 60) };

interface Corner {
  /** 1: upper limits, −1: lower limits, 0: nominal. */
  readonly side: -1 | 0 | 1;
  /** Share of the trimmer in circuit. */
  readonly knob: number;
  readonly leak: number;
}

/** Volts of all plans here. */
const VOLTS = 12;
/** Room of 0 to 40 °C, values at 25 °C. */
const KELVINS = 25;

/**
 * Tolerance and change per kelvin: resistors 1 %, 50 ppm/K and trimmers 20 %, 100 ppm/K (common practice, no source);
 * electrolytics ±20 % (Nichicon VR and KL series sheets), 0.2 %/K (from memory); film 10 % (common practice), 400 ppm/K
 * (from memory); CMOS chip −1/7 and +20 % (TI LMC555 SNAS558N 5.6: 4.0, 4.8, 5.6 kHz), 75 ppm/K (same).
 */
const LIMITS = {
  resistor: [0.01, 50e-6],
  trimmer: [0.2, 100e-6],
  electrolytic: [0.2, 2000e-6],
  "low-leakage": [0.2, 2000e-6],
  film: [0.1, 400e-6],
} as const;

const factor = (kind: keyof typeof LIMITS, side: number): number =>
  (1 + side * LIMITS[kind][0]) * (1 + side * LIMITS[kind][1] * KELVINS);

const chipFactor = (side: number): number => (side < 0 ? 1 + side * (1 - 4.8 / 5.6) : 1 + side * (4.8 / 4.0 - 1)) * (1 + side * 75e-6 * KELVINS);

/** What the end of a track leaves, at most: 1 % of it or 2 Ω (3386P sheet); it counts with the slowest parts alone. */
const endOf = (value: number): number => Math.max(0.01 * value * factor("trimmer", 1), 2);

/** R1, R2, C and the factor of the chip at a corner. */
function circuit(choice: Choice, { side, knob }: Corner): { r1: number; r2: number; c: number; chip: number } {
  const r = factor("resistor", side);
  const track = knob > 0 ? knob * choice.trimmer.value * factor("trimmer", side) : side > 0 ? endOf(choice.trimmer.value) : 0;
  const ra = choice.ra * r + (choice.trimmer.in === "ra" ? track : 0);
  const rb = choice.rb * r + (choice.trimmer.in === "rb" ? track : 0);
  return { r1: ra + rb, r2: rb, c: choice.c * factor(choice.capacitor.type as "film", side), chip: chipFactor(side) };
}

/** Step time by the datasheet's formula, ln 2 · (RA + 2·RB) · C, no current into the chip. */
function byFormula(choice: Choice, corner: Corner): number {
  const { r1, r2, c, chip } = circuit(choice, corner);
  const { ohms, lost } = pin(choice, corner);
  return choice.divide * chip * c * (Math.LN2 * r1 + (r2 + ohms) * Math.log((8 - lost) / (4 - lost)));
}

/**
 * The closed discharge pin: 50 Ω (0.5 V at 10 mA; from memory), and what Ra's current loses in it, where that makes the low
 * time of the slowest parts longer by a hundredth or more.
 */
function pin(choice: Choice, corner: Corner): { ohms: number; lost: number } {
  const { r1, r2 } = circuit(choice, corner);
  const lost = (VOLTS * 50) / (r1 - r2);
  const matters = corner.side > 0 && (r2 + 50) * Math.log((8 - lost) / (4 - lost)) >= 1.01 * Math.LN2 * r2;
  return matters ? { ohms: 50, lost } : { ohms: 0, lost: 0 };
}

/** Step time by charging and discharging the capacitor in small steps of voltage. Infinity: it never gets there. */
function byCharging(choice: Choice, corner: Corner): number {
  const { r1, r2, c, chip } = circuit(choice, corner);
  const { leak } = corner;
  const { ohms, lost } = pin(choice, corner);
  if ((VOLTS / 3) / r1 <= leak) return Infinity;
  const steps = 400;
  let seconds = 0;
  for (let i = 0; i < steps; i++) {
    // voltages crowd towards two thirds, where a stalling timer spends its time
    const u = 1 - (1 - (i + 0.5) / steps) ** 4;
    const dv = (4 * (1 - (i + 0.5) / steps) ** 3 * (VOLTS / 3)) / steps;
    const v = VOLTS / 3 + u * (VOLTS / 3);
    seconds += c * dv * (1 / ((VOLTS - v) / r1 - leak) + 1 / ((v - lost) / (r2 + ohms) + leak));
  }
  return choice.divide * chip * seconds;
}

describe.each([
  [10, 120],
  [30, 360],
  [300, 1800],
  [1, 5],
])("%i s to %i s, each choice recomputed", (from, to) => {
  const { choices, nearMisses, reason } = planParts({ range: { from, to } });

  test("some cover it, or it is said why none does", () => {
    expect(choices.length > 0 || (reason !== null && nearMisses.length > 0)).toBe(true);
    for (const { why } of nearMisses) expect(why.length).toBeGreaterThan(20);
  });

  test("with the end of the track, the limits of parts and chip, and the leakage that a choice may have", () => {
    for (const choice of choices) {
      const at = (side: -1 | 1, knob: 0 | 1): number => byFormula(choice, { side, knob, leak: 0 });
      expect(choice.corners.from / at(1, 0)).toBeCloseTo(1, 4);
      expect(choice.corners.to / at(-1, 1)).toBeCloseTo(1, 4);
      expect(at(1, 0)).toBeLessThanOrEqual(from);
      expect(at(-1, 1)).toBeGreaterThanOrEqual(to);
      // leakage makes steps longer: the fast end of the slowest parts decides, and the timer still clocks at the slow end
      const leak = choice.leakageBudget;
      expect(byCharging(choice, { side: 1, knob: 0, leak })).toBeLessThanOrEqual(from * 1.001);
      expect(byCharging(choice, { side: 1, knob: 1, leak })).toBeLessThan(Infinity);
    }
  });
});

describe("40 s to 8 min", () => {
  const range = { from: 40, to: 480 };
  const { choices, reason } = planParts({ range });

  test("at least five choices of different make, best first", () => {
    expect(choices.length).toBeGreaterThanOrEqual(5);
    expect(choices.length).toBeLessThanOrEqual(10);
    expect(reason).toBeNull();
    expect(new Set(choices.map(({ capacitor, divide }) => `${capacitor.type} ${divide > 1}`)).size).toBeGreaterThanOrEqual(4);
    expect(new Set(choices.map(({ c, trimmer, divide }) => `${c} ${trimmer.value} ${divide}`)).size).toBe(choices.length);
    const scores = choices.map(({ score }) => score);
    expect([...scores].sort((a, b) => b - a)).toEqual(scores);
  });

  test.each(choices.map((choice) => [`${choice.c} F ${choice.capacitor.type} / ${choice.divide}`, choice] as const))(
    "%s: the four extreme corners, by a formula of its own, cover the range",
    (_, choice) => {
      // slowest and fastest parts at the fast end, slowest and fastest at the slow end; 75 pA of threshold current do not matter
      const at = (side: -1 | 1, knob: 0 | 1): number => byFormula(choice, { side, knob, leak: 0 });
      expect(at(1, 0)).toBeLessThanOrEqual(range.from);
      expect(at(-1, 0)).toBeLessThanOrEqual(range.from);
      expect(at(1, 1)).toBeGreaterThanOrEqual(range.to);
      expect(at(-1, 1)).toBeGreaterThanOrEqual(range.to);
      expect(choice.corners.from / at(1, 0)).toBeCloseTo(1, 4);
      expect(choice.corners.to / at(-1, 1)).toBeCloseTo(1, 4);
      expect(choice.nominal.from / byFormula(choice, { side: 0, knob: 0, leak: 0 })).toBeCloseTo(1, 4);
      expect(choice.nominal.to / byFormula(choice, { side: 0, knob: 1, leak: 0 })).toBeCloseTo(1, 4);
    },
  );

  test("all combinations of single limits lie between the corners", () => {
    // each part at its own limit, either way: 2^5 of them
    for (const choice of choices) {
      for (let bits = 0; bits < 32; bits++) {
        const side = (i: number): number => ((bits >> i) & 1 ? 1 : -1);
        const f = [0, 1, 2].map((i) => factor((["resistor", "resistor", "trimmer"] as const)[i]!, side(i)));
        const scale = choice.divide * Math.LN2 * choice.c * factor(choice.capacitor.type as "film", side(3)) * chipFactor(side(4));
        const track = choice.trimmer.value * f[2]! * (choice.trimmer.in === "rb" ? 2 : 1);
        const fixed = choice.ra * f[0]! + 2 * choice.rb * f[1]!;
        const end = endOf(choice.trimmer.value) * (choice.trimmer.in === "rb" ? 2 : 1);
        // what the discharge pin loses comes on top, at the corner alone
        expect(scale * (fixed + end)).toBeLessThanOrEqual(choice.corners.from * (1 + 1e-4));
        expect(scale * (fixed + track)).toBeGreaterThanOrEqual(choice.corners.to * (1 - 1e-4));
      }
    }
  });

  test.each(choices.map((choice) => [`${choice.c} F ${choice.capacitor.type} / ${choice.divide}`, choice] as const))(
    "%s: the leakage budget, by stepping up the leakage and charging in small steps",
    (_, choice) => {
      const holds = (leak: number): boolean =>
        byCharging(choice, { side: 1, knob: 0, leak }) <= range.from &&
        byCharging(choice, { side: -1, knob: 1, leak }) >= range.to &&
        Number.isFinite(byCharging(choice, { side: 1, knob: 1, leak }));
      const increment = choice.leakageBudget / 200;
      let leak = 0;
      while (holds(leak + increment)) leak += increment;
      expect(Math.abs(leak - choice.leakageBudget) / choice.leakageBudget).toBeLessThan(0.011);
    },
  );

  test("a scenario with the parts reaches the nominal ends with its dial", () => {
    for (const { ra, rb, trimmer, c, divide, nominal } of choices) {
      const at = (dial: number): number => {
        const timer = `{ kind: astable, chip: cmos, ra: ${ra}, rb: ${rb}, c: ${c}, trimmer: { value: ${trimmer.value}, in: ${trimmer.in}, dial: ${dial} }, divide: ${divide} }`;
        const text = `{ lampdrift: 1, title: t, houses: { a: {} }, boards: { b: { timer: ${timer}, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } } }`;
        return boardTimes(parseScenario(text, "t.yaml"))[0]!.stepSeconds;
      };
      expect(at(0)).toBeCloseTo(nominal.from, 9);
      expect(at(1)).toBeCloseTo(nominal.to, 9);
    }
  });

  test("the discharge pin takes no more than four fifths of 10 mA (from memory), and the lines to paste say so to check", () => {
    for (const choice of choices) {
      const lines = scenarioLines(choice, range).map((line) => `    ${line}`).join("\n");
      const text = `lampdrift: 1\ntitle: t\nhouses: { a: {} }\nboards:\n  b:\n${lines}\n    counter: { kind: ring, steps: 2 }\n    outputs: { 0: a }\n`;
      const scenario = parseScenario(text, "t.yaml");
      expect(boardTimes(scenario)[0]!.stepSeconds).toBeCloseTo(260, 6);
      const [pin] = ratings(scenario, simulate(scenario, { trace: true })).filter(({ what }) => what === "discharge pin");
      expect(pin).toMatchObject({ limit: 0.01, verdict: "within" });
    }
  });

  test("reasons say how far, how leaky, how fine", () => {
    for (const { reasons, divide } of choices) {
      expect(reasons.join(" ")).toMatch(/From .* to spare: allowed for are .*the chip's limits.*end of the track.*leak.*knob's travel/);
      expect(reasons.join(" ")).not.toMatch(/for sure/i);
      expect(/divider/.test(reasons.join(" "))).toBe(divide > 1);
    }
  });
});

describe("any range", () => {
  const request = fc.record({
    from: fc.double({ min: 0.05, max: 2000, noNaN: true }),
    ratio: fc.double({ min: 1.2, max: 20, noNaN: true }),
    chip: fc.constantFrom("cmos", "bipolar", "ideal"),
    series: fc.constantFrom("E3", "E6", "E12", "E24"),
  });

  test("every choice covers it for sure, and where there is none the reason stands", () => {
    let answered = 0;
    fc.assert(
      fc.property(request, ({ from, ratio, chip, series }) => {
        const range = { from, to: from * ratio };
        const { choices, nearMisses, reason } = planParts({ range, chip, series });
        expect(choices.length === 0).toBe(reason !== null);
        if (choices.length === 0) expect(nearMisses.length).toBeGreaterThan(0);
        for (const { corners, nominal, ra, leakageBudget, knob } of choices) {
          expect(corners.from).toBeLessThanOrEqual(range.from);
          expect(corners.to).toBeGreaterThanOrEqual(range.to);
          expect(nominal.from).toBeLessThanOrEqual(corners.from);
          expect(nominal.to).toBeGreaterThanOrEqual(corners.to);
          expect(ra).toBeGreaterThanOrEqual(1000);
          expect(leakageBudget).toBeGreaterThan(0);
          expect(knob.travel).toBeGreaterThan(0);
          answered++;
        }
        for (const { corners, why, ra, rb, trimmer } of nearMisses) {
          const covers = corners.from <= range.from && corners.to >= range.to;
          expect(covers && ra + rb + trimmer.value <= 8e6).toBe(false);
          expect(why.length).toBeGreaterThan(20);
        }
      }),
      SETTINGS,
    );
    expect(answered).toBeGreaterThan(often(15, 150));
  });

  test("a wider room and a wider tolerance leave less to spare", () => {
    const spare = (capacitor: string, to: number): number => {
      const stock = parseStock(`15k metal\n10k metal\n470k metal\n${capacitor} film\ntrimmer 470k`, "t.txt");
      return planParts({ range: { from: 60, to: 330 }, stock, room: { from: 25, to } }).choices[0]!.spare;
    };
    expect(spare("4.7 uF 5 %", 25)).toBeGreaterThan(spare("4.7 uF 5 %", 40));
    expect(spare("4.7 uF 5 %", 25)).toBeGreaterThan(spare("4.7 uF 10 %", 25));
  });

  // TI SLFS022A p. 4: threshold current 250 nA maximum
  test("a bipolar chip's threshold current slows the fast end, and takes from the leakage budget", () => {
    const stock = parseStock("1M 1 % metal\n1 uF 10 % film\ntrimmer 2M", "t.txt");
    const chip = (1 + 0.13) * (1 + 150e-6 * 25);
    const { corners, leakageBudget, ...found } = planParts({ range: { from: 3, to: 3.1 }, chip: "bipolar", stock }).choices[0]!;
    const choice = { ...found, corners, leakageBudget };
    const slowest = (byCharging(choice, { side: 1, knob: 0, leak: 250e-9 }) / chipFactor(1)) * chip;
    expect(corners.from / slowest).toBeCloseTo(1, 4);
    const r1 = 2 * 1e6 * factor("resistor", 1) + 2e6 * factor("trimmer", 1);
    expect(leakageBudget).toBeLessThanOrEqual(4 / r1 - 250e-9);
  });

  test("RA + RB stay within what the chip allows at its supply", () => {
    // SLFS022 (Feb 1992) note 2: about 3.4 MOhm at 5 V
    const stock = (track: string) => parseStock(`100k metal\n10 uF 5 % film\ntrimmer ${track} 10 %`, "t.txt");
    const ask = (track: string) => planParts({ range: { from: 5, to: 20 }, chip: "bipolar", supply: 5, stock: stock(track) });
    expect(ask("2M").choices).toHaveLength(1);
    const { choices, nearMisses } = ask("4M");
    expect(choices).toEqual([]);
    expect(nearMisses[0]?.why).toBe("RA + RB with the trimmer are 4.2 MΩ, and the most for this chip and supply is 3.4 MΩ.");
  });

  test("the range ends where the corners do", () => {
    const stock = parseStock("10k metal\n100 uF low-leakage\ntrimmer 500k", "t.txt");
    const { corners } = planParts({ range: { from: 5, to: 30 }, stock }).choices.find(({ divide }) => divide === 1)!;
    const undivided = (from: number, to: number) => planParts({ range: { from, to }, stock }).choices.some(({ divide }) => divide === 1);
    expect(undivided(corners.from * 1.0001, corners.to * 0.9999)).toBe(true);
    expect(undivided(corners.from * 0.9999, corners.to * 0.8)).toBe(false);
    expect(undivided(corners.from * 1.2, corners.to * 1.0001)).toBe(false);
  });

  test("resistors below 1 kΩ are left in the drawer", () => {
    const stock = parseStock("100R metal\n470R metal\n1k metal\n2k2 metal\n1000 uF electrolytic\ntrimmer 100k", "t.txt");
    const { choices } = planParts({ range: { from: 7, to: 60 }, stock });
    expect(choices.length).toBeGreaterThan(0);
    for (const { ra, rb } of choices) expect(Math.min(ra, rb)).toBeGreaterThanOrEqual(1000);
  });

  test("of two capacitors alike in all but leakage the one that leaks less comes first", () => {
    const stock = parseStock("10k metal\n100 uF electrolytic\n100 uF 20 % low-leakage\ntrimmer 500k", "t.txt");
    const { choices } = planParts({ range: { from: 5, to: 30 }, stock });
    expect(choices[0]?.capacitor.type).toBe("low-leakage");
  });
});

describe("requests that cannot be answered", () => {
  const about = (ask: () => unknown): string => {
    try {
      ask();
    } catch (error) {
      if (error instanceof PartsRequestError) return `${error.about}: ${error.message}`;
      throw error;
    }
    return "answered";
  };

  test.each([
    [{ range: { from: 360, to: 30 } }, /^range: .*backwards/],
    [{ range: { from: 0, to: 30 } }, /^range: .*at least 1 ms/],
    [{ range: { from: -5, to: 30 } }, /^range: .*at least 1 ms/],
    [{ range: { from: 30, to: 30 } }, /^range: .*two different times/],
    [{ range: { from: NaN, to: 30 } }, /^range: /],
    [{ range: { from: 30, to: Infinity } }, /^range: /],
    [{ range: { from: 30, to: 2e7 } }, /^range: .*at most/],
    [{ range: { from: 1, to: 86_400 } }, /^reach: no knob reaches 1 s to 24 h, which is 1 : 86400/],
    [{ range: { from: 30, to: 60 }, wanted: { from: 20, to: 50 } }, /^wanted: .*beyond/],
    [{ range: { from: 30, to: 60 }, series: "E13" }, /^series: unknown series "E13".*E12/],
    [{ range: { from: 30, to: 60 }, chip: "__proto__" }, /^chip: unknown chip.*bipolar, cmos, LMC555, TLC555, ICM7555, ideal/],
    [{ range: { from: 30, to: 60 }, chip: "bipolar", supply: 3 }, /^supply: found a supply of 3 V; expected 4.5 V to 16 V/],
    [{ range: { from: 30, to: 60 }, supply: NaN }, /^supply: /],
    [{ range: { from: 30, to: 60 }, room: { from: 40, to: 0 } }, /^room: /],
  ])("%j", (request, message) => {
    expect(about(() => planParts(request))).toMatch(message);
  });

  test.each(["", "30 s", "30 s..6 min..7 min", "30 s to", "2..4 min 30 s", "2..4:00", "2 min-4 min-6 min", "x..y", "6 min..30 s", "0..1", `${"9".repeat(500)}..1`])("range %j", (text) => {
    expect(about(() => parseRange(text, "range"))).toMatch(/^range: /);
  });

  test("a range is read", () => {
    expect(parseRange("30 s..6 min", "range")).toEqual({ from: 30, to: 360, shared: null });
    expect(parseRange(" 2 s .. 1 h 5 min ", "wanted")).toEqual({ from: 2, to: 3900, shared: null });
    expect(parseRange("30..360", "range")).toEqual({ from: 30, to: 360, shared: null });
    expect(parseRange("1e-1-2e-1", "range")).toEqual({ from: 0.1, to: 0.2, shared: null });
  });

  test.each(["2..4 min", "2-4 min", "2 – 4 min", "2 to 4 min", "2 min..4", "2 min to 4 min", "2:00-4:00", "2m...4m", "120-240s"])("%j is two to four minutes", (text) => {
    expect(parseRange(text, "range")).toMatchObject({ from: 120, to: 240 });
  });
});

describe("stock file", () => {
  test("parts with tolerance and type", () => {
    const stock = parseStock(
      ["# the drawer", "", "470 uF ±20 % electrolytic", "100k 1 % metal", "4k7 carbon  # old", "100k 1 % metal", "2u2 K film", "trimmer 500k ±20 %", "trimmer 100k"].join("\r\n"),
      "stock.txt",
    );
    expect(stock.resistors).toMatchObject([{ value: 4700, minus: 0.05, plus: 0.05 }, { value: 100e3, minus: 0.01 }]);
    expect(stock.trimmers).toMatchObject([{ value: 100e3, minus: 0.2 }, { value: 500e3, minus: 0.2 }]);
    expect(stock.capacitors).toMatchObject([
      { value: 2.2e-6, plus: 0.1, type: "film" },
      { value: 470e-6, plus: 0.2, type: "electrolytic" },
    ]);
  });

  test("lines without a type are the plainest part of their value, and said to be", () => {
    const { resistors, capacitors, taken } = parseStock("10k\n47k 5%\n33k 1 %\n470 uF\n100n\ntrimmer 500k", "stock.txt");
    expect(resistors).toMatchObject([{ value: 10e3, type: "carbon", plus: 0.05 }, { value: 33e3, type: "metal", plus: 0.01 }, { value: 47e3, type: "carbon", plus: 0.05 }]);
    expect(capacitors).toMatchObject([{ value: 100e-9, type: "film" }, { value: 470e-6, type: "electrolytic" }]);
    expect(taken.join("\n")).toMatch(/Taken for carbon.*: 10k, 47k 5%\./);
  });

  test("only parts of the stock are chosen", () => {
    const stock = parseStock("470 uF ±10 % electrolytic\n2u2 film\n100k metal\n10k metal\n22k metal\ntrimmer 500k\ntrimmer 250k 10 %", "stock.txt");
    const { choices } = planParts({ range: { from: 30, to: 120 }, stock });
    expect(choices.length).toBeGreaterThan(1);
    for (const { ra, rb, c, trimmer } of choices) {
      expect([10e3, 22e3, 100e3]).toContain(ra);
      expect([10e3, 22e3, 100e3]).toContain(rb);
      expect([2.2e-6, 470e-6]).toContain(c);
      expect([250e3, 500e3]).toContain(trimmer.value);
    }
  });

  test("all bad lines are told at once, each with its number", () => {
    const bad = "470 xF\n\n100k 1 % mtal\ntrimmer 5x\n100n metal\n12 V film\n47k metal\nnonsense";
    let message = "";
    try {
      parseStock(bad, "stock.txt");
    } catch (error) {
      expect(error).toBeInstanceOf(StockError);
      expect((error as StockError).problems.map(({ line }) => line)).toEqual([1, 3, 4, 5, 6, 8]);
      message = (error as Error).message;
    }
    expect(message).toContain('stock.txt:1: found "470 xF"; expected a part');
    expect(message).toContain('did you mean "metal"?');
    expect(message).toContain('behind "trimmer" expected a resistance');
  });

  test.each([
    ["100k metal\n1 uF film", /no trimmers/],
    ["trimmer 100k\n1 uF film", /no resistors/],
    ["", /no resistors.*\n.*no trimmers.*\n.*no capacitors/],
  ])("%j is refused", (text, message) => {
    expect(() => parseStock(text, "stock.txt")).toThrow(message);
  });

  test("a stock without a resistor large enough is told so", () => {
    const stock = parseStock("100R metal\ntrimmer 100k\n1 uF film", "stock.txt");
    expect(() => planParts({ range: { from: 1, to: 2 }, stock })).toThrow(/no fixed resistor of 1 kΩ/);
  });

  test("a line of any length is refused", () => {
    for (const text of [" a".repeat(500_000), `100k${" ".repeat(1_000_000)}1`, "#".repeat(1_000_000)]) {
      expect(() => parseStock(text, "stock.txt")).toThrow(StockError);
    }
  });

  test("any text is read or refused", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 200 }), (text) => {
        try {
          parseStock(text, "stock.txt");
        } catch (error) {
          expect(error).toBeInstanceOf(StockError);
        }
      }),
      { ...SETTINGS, numRuns: 500 },
    );
  });
});
