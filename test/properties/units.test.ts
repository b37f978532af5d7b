import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseClock } from "../../sim/units/clock.js";
import { preferredBetween, seriesValues, type SeriesName } from "../../sim/units/eseries.js";
import { formatPart, formatTolerance, parsePartMarking, parseTolerance } from "../../sim/units/part.js";
import * as quantities from "../../sim/units/quantities.js";
import type { Quantity } from "../../sim/units/quantity.js";
import { often } from "../thorough.js";

const { amps, drift, duration, farads, metres, ohms, ratio, thermalResistance } = quantities;
type Name = keyof typeof quantities;
const SETTINGS = { seed: 20240607, numRuns: often(200, 500) };
const ALL: [string, Quantity][] = Object.entries(quantities);
const UNSIGNED: readonly Quantity[] = [ohms, farads, duration, metres, thermalResistance];

/** Magnitudes spread evenly over the decades, all digits used. */
const wide = fc
  .tuple(fc.double({ min: 1, max: 10, noNaN: true }), fc.integer({ min: -30, max: 30 }))
  .map(([mantissa, power]) => mantissa * 10 ** power);
/** Values of few digits, as people write them. */
const short = fc
  .tuple(fc.integer({ min: 1, max: 99_999 }), fc.integer({ min: -16, max: 12 }))
  .map(([digits, power]) => Number(`${digits}e${power}`));
const extreme = fc.double({ min: 0, noNaN: true, noDefaultInfinity: true });
const magnitude = fc.oneof(wide, short, extreme, fc.constantFrom(0, 5e-324, Number.MAX_VALUE, 2 ** 53, 59.999999999999993, 3600));

/** Text made of the pieces of quantities, so that much of it is nearly right. */
const nearlyRight = fc
  .array(
    fc.constantFrom(
      "4", "7", "0", ".", "1e", "-", "−", "+", "±", "/", "%", " ", "  ", "\u00a0", "ppm", "k", "K", "M", "m", "n", "u", "µ", "F",
      "R", "Ω", "°C", "C", "W", "V", "h", "min", "s", "ms", "PT", "P", "T", "D", "S", ":", "J", "Z", "1000 h", ",", "Infinity",
      "NaN", "e999", "9".repeat(30),
    ),
    { maxLength: 9 },
  )
  .map((pieces) => pieces.join(""));
const anyText = fc.oneof(nearlyRight, fc.string({ unit: "binary" }), fc.string({ unit: "grapheme", maxLength: 200 }));

describe("reading back what was printed", () => {
  test.each(ALL)("%s: the same double", (_, quantity) => {
    fc.assert(
      fc.property(magnitude, fc.boolean(), (size, negative) => {
        const value = negative && size > 0 && !UNSIGNED.includes(quantity) ? -size : size;
        expect(quantity.parse(quantity.format(value))).toBe(value);
      }),
      SETTINGS,
    );
  });

  test("every E96 value in every decade that is sold", () => {
    for (const mantissa of seriesValues("E96")) {
      for (let decade = -4; decade <= 9; decade++) {
        const value = Number(`${mantissa}e${decade - 2}`);
        expect(ohms.parse(ohms.format(value))).toBe(value);
        const small = Number(`${mantissa}e${decade - 12}`);
        expect(farads.parse(farads.format(small))).toBe(small);
      }
    }
  });

  test("a plain number is the SI number, as a number and as text", () => {
    fc.assert(
      fc.property(magnitude, (value) => {
        for (const [, quantity] of ALL.filter(([, each]) => each !== drift)) {
          expect(quantity.parse(value)).toBe(value);
          expect(quantity.parse(String(value))).toBe(value);
        }
      }),
      SETTINGS,
    );
  });

  test("a tolerance and a marked part", () => {
    const share = fc.oneof(
      fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
      fc.integer({ min: 0, max: 999 }).map((perMille) => perMille / 1000),
    );
    const value = fc.oneof(wide, short);
    fc.assert(
      fc.property(value, share, share, fc.boolean(), (size, minus, up, same) => {
        const plus = same ? minus : up;
        expect(parseTolerance(formatTolerance(minus, plus))).toEqual({ minus, plus });
        for (const quantity of [ohms, farads]) {
          expect(parsePartMarking(formatPart(size, minus, plus, quantity), quantity)).toEqual({ value: size, minus, plus });
          const unmarked = { value: size, minus: null, plus: null };
          expect(parsePartMarking(formatPart(size, null, null, quantity), quantity)).toEqual(unmarked);
        }
      }),
      SETTINGS,
    );
  });
});

describe("familiar notation", () => {
  test.each<[Name, number, string]>([
    ["ohms", 4700, "4.7 kΩ"],
    ["ohms", 0.47, "0.47 Ω"],
    ["ohms", 0.001, "0.001 Ω"],
    ["ohms", 0, "0 Ω"],
    ["ohms", 1e6, "1 MΩ"],
    ["farads", 0.00047, "470 µF"],
    ["farads", 1e-7, "100 nF"],
    ["farads", 0.0022, "2200 µF"],
    ["volts", 12, "12 V"],
    ["amps", 0.02, "20 mA"],
    ["amps", 5e-7, "500 nA"],
    ["watts", 0.5, "500 mW"],
    ["duration", 200, "3 min 20 s"],
    ["duration", 86_400, "24 h"],
    ["duration", 3_600.5, "1 h 0.5 s"],
    ["duration", 0.25, "250 ms"],
    ["celsius", 21, "21 °C"],
    ["kelvins", 2, "2 K"],
    ["ratio", 0.001, "0.1 %"],
    ["ratio", 5e-5, "50 ppm"],
    ["tempco", -0.0002, "-200 ppm/K"],
    ["drift", 5e-6, "0.5 %/1000 h"],
    ["drift", -2e-7, "-200 ppm/1000 h"],
    ["thermalResistance", 55, "55 K/W"],
  ])("%s prints %d as %s", (name, value, text) => {
    expect(quantities[name].format(value)).toBe(text);
    expect(quantities[name].parse(text)).toBe(value);
  });

  test.each<[Name, string, number]>([
    ["ohms", "4.7 Ohms", 4.7],
    ["ohms", "4.7k\u2126", 4700],
    ["ohms", "100 mΩ", 0.1],
    ["farads", "0.1 μF", 1e-7],
    ["farads", "4.7mF", 0.0047],
    ["duration", "0.1 s", 0.1],
    ["duration", "1.15 min", 69],
    ["duration", "1 h 5 min", 3900],
    ["duration", "1 d", 86_400],
    ["duration", "90 sec", 90],
    ["duration", "2 hours", 7200],
    ["duration", "500 us", 0.0005],
    ["duration", "PT3M20S", 200],
    ["duration", "3m", 180],
    ["duration", "3m 20s", 200],
    ["duration", "3:02", 182],
    ["duration", "3:02.5", 182.5],
    ["duration", "90:00", 5400],
    ["duration", "1:02:03", 3723],
    ["duration", "P1DT2H", 93_600],
    ["duration", "PT0.5S", 0.5],
    ["kelvins", "2 °C", 2],
    ["celsius", "21C", 21],
    ["celsius", "−4 °C", -4],
    ["tempco", "150 ppm/°C", 0.00015],
    ["tempco", "5 ppm/C", 5e-6],
    ["drift", "1 %/d", 0.01 / 24],
    ["drift", "0", 0],
    ["thermalResistance", "55 C/W", 55],
  ])("%s reads %s", (name, text, value) => {
    expect(quantities[name].parse(text)).toBe(value);
  });

  test.each<[Name, string]>([
    ["ohms", "4,7k"], ["ohms", "-5"], ["ohms", "k"], ["ohms", "4.7 F"], ["ohms", "1e999"], ["farads", "1 MF"], ["farads", "100 n F"], ["volts", "12 A"],
    ["duration", "3:60"], ["duration", "1:2:03"], ["duration", "3:2"], ["duration", ":02"], ["duration", "1:02:03:04"], ["duration", "-3:02"],
    ["duration", "-1 s"], ["duration", "20 s 3 min"], ["duration", "1 h 2 h"], ["duration", "1 h 5"], ["duration", "PT"],
    ["duration", "P"], ["duration", "P1DT"], ["duration", "P1Y"], ["duration", "0,5 s"], ["duration", "1e999 s"],
    ["tempco", "100 ppm"], ["drift", "0.5 %"], ["drift", "1 %/year"], ["drift", "1 %/1000"], ["drift", "1 %/0 h"], ["ratio", "1 ppb/K"], ["celsius", "70 F"],
  ])("%s refuses %s", (name, text) => {
    expect(quantities[name].parse(text)).toBeNull();
  });
});

describe("exact values", () => {
  // A quotient of two integers is rounded once, so it is the nearest double; so must be the value read.
  const count = fc.integer({ min: 0, max: 999_999_999 });

  test("prefixes, codes and units of time", () => {
    fc.assert(
      fc.property(count, fc.nat(99), fc.nat(9), fc.nat(59), (n, a, b, s) => {
        expect(farads.parse(`${n} pF`)).toBe(n / 1e12);
        expect(farads.parse(`${n} uF`)).toBe(n / 1e6);
        expect(farads.parse(`${a}n${b}`)).toBe((10 * a + b) / 1e10);
        expect(ohms.parse(`${a}R${b}`)).toBe((10 * a + b) / 10);
        expect(ohms.parse(`${a}k${b}`)).toBe((10 * a + b) * 100);
        expect(amps.parse(`${n} mA`)).toBe(n / 1e3);
        expect(ratio.parse(`-${n + 1} ppm`)).toBe(-(n + 1) / 1e6);
        expect(duration.parse(`${n} ms`)).toBe(n / 1e3);
        expect(duration.parse(`${a} h ${b} min ${s} sec`)).toBe(a * 3600 + b * 60 + s);
        expect(duration.parse(`PT${a}H${b}M${s}.${b}S`)).toBe(((a * 3600 + b * 60 + s) * 10 + b) / 10);
        expect(drift.parse(`${n} ppm/${a + 1} h`)).toBe(n / (1e6 * (a + 1)));
        expect(drift.parse(`${n} ppm/${a + 1} d`)).toBe(n / (24e6 * (a + 1)));
      }),
      SETTINGS,
    );
  });

  test("preferred values are the doubles their decimals stand for", () => {
    const low = fc.double({ min: 1e-12, max: 1e7, noNaN: true });
    const factor = fc.double({ min: 1, max: 1e4, noNaN: true });
    const names: SeriesName[] = ["E3", "E6", "E12", "E24", "E48", "E96", "E192"];
    fc.assert(
      fc.property(fc.constantFrom(...names), low, factor, (name, from, span) => {
        const values = preferredBetween(name, from, from * span);
        const size = seriesValues(name).length;
        expect(values.every((value) => value >= from && value <= from * span)).toBe(true);
        expect(values).toEqual([...new Set(values)].sort((a, b) => a - b));
        expect(values.every((value) => value.toExponential().replace(/e.*/, "").length <= 4)).toBe(true);
        // Any stretch of the logarithmic scale holds its share of the values, but for the uneven steps of the series.
        expect(Math.abs(values.length - size * Math.log10(span))).toBeLessThanOrEqual(2);
      }),
      SETTINGS,
    );
  });
});

describe("hostile input", () => {
  test.each(ALL)("%s: nothing throws and nothing is infinite", (_, quantity) => {
    fc.assert(
      fc.property(anyText, (text) => {
        const value = quantity.parse(text);
        if (value === null) return;
        expect(Number.isFinite(value)).toBe(true);
        if (UNSIGNED.includes(quantity)) expect(value).toBeGreaterThanOrEqual(0);
        expect(quantity.parse(quantity.format(value))).toBe(value);
      }),
      { ...SETTINGS, numRuns: often(400, 2000) },
    );
  });

  test("markings, tolerances and times of day neither", () => {
    fc.assert(
      fc.property(anyText, (text) => {
        for (const quantity of [ohms, farads]) {
          const marking = parsePartMarking(text, quantity);
          if (marking === null) continue;
          expect(marking.value).toBeGreaterThan(0);
          expect(parsePartMarking(formatPart(marking.value, marking.minus, marking.plus, quantity), quantity)).toEqual(marking);
        }
        const tolerance = parseTolerance(text);
        if (tolerance !== null) expect(tolerance.minus >= 0 && tolerance.minus < 1 && Number.isFinite(tolerance.plus)).toBe(true);
        const time = parseClock(text);
        if (time !== null) expect(Number.isInteger(time)).toBe(true);
      }),
      { ...SETTINGS, numRuns: often(1000, 5000) },
    );
  });

  test("NaN, infinities and long texts are refused", () => {
    for (const [, quantity] of ALL) {
      for (const input of [NaN, Infinity, -Infinity, "", " ", "0".repeat(101), `1${" ".repeat(1_000_000)}V`]) {
        expect(quantity.parse(input)).toBeNull();
      }
      expect(() => quantity.format(NaN)).toThrow(RangeError);
      expect(() => quantity.format(Infinity)).toThrow(RangeError);
    }
  });
});
