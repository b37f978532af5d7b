import { describe, expect, test } from "vitest";
import { preferredBetween, seriesValues, type SeriesName } from "../../sim/units/eseries.js";
import { formatPart, parsePartMarking, parseTolerance } from "../../sim/units/part.js";
import { farads, ohms } from "../../sim/units/quantities.js";

describe("value codes", () => {
  // IEC 60062:2016 (examples, encyclopaedia copy); capacitor tutorial.
  test.each([
    ["R47", 0.47],
    ["4R7", 4.7],
    ["470R", 470],
    ["4K7", 4.7e3],
    ["47K3", 47.3e3],
    ["4M7", 4.7e6],
  ])("%s is %d ohm", (code, value) => {
    expect(ohms.parse(code)).toBe(value);
  });

  test.each([
    ["2n2", 2.2e-9],
    ["4n7", 4.7e-9],
  ])("%s is %d farad", (code, value) => {
    expect(farads.parse(code)).toBe(value);
  });

  // IEC 60062, further capacitor codes: from memory.
  test.each([
    ["p33", 0.33e-12],
    ["47p", 47e-12],
    ["n33", 0.33e-9],
    ["100n", 100e-9],
    ["4u7", 4.7e-6],
    ["µ33", 0.33e-6],
    ["470u", 470e-6],
    ["3m3", 3.3e-3],
  ])("%s is %d farad (from memory)", (code, value) => {
    expect(farads.parse(code)).toBe(value);
  });
});

describe("tolerance letters", () => {
  // Capacitor code tables (several); service-manual chart. Q and the resistor letters E, L, P, W: IEC 60062, from memory.
  const letters: [string, number, number][] = [
    ["B", 0.1, 0.1], ["C", 0.25, 0.25], ["D", 0.5, 0.5], ["F", 1, 1], ["G", 2, 2], ["J", 5, 5], ["K", 10, 10],
    ["M", 20, 20], ["N", 30, 30], ["Z", 20, 80], ["T", 10, 50], ["S", 20, 50],
    ["Q", 10, 30], ["E", 0.005, 0.005], ["L", 0.01, 0.01], ["P", 0.02, 0.02], ["W", 0.05, 0.05],
  ];

  test.each(letters)("%s is -%d/+%d %%", (letter, minus, plus) => {
    const expected = { minus: minus / 100, plus: plus / 100 };
    expect(parseTolerance(letter)).toEqual(expected);
    expect(parsePartMarking(`4k7 ${letter}`, ohms)).toEqual({ value: 4700, ...expected });
    expect(parsePartMarking(`4K7${letter}`, ohms)).toEqual({ value: 4700, ...expected });
    const onCapacitor = "ELPW".includes(letter) ? null : { value: 470e-6, ...expected };
    expect(parsePartMarking(`470 uF ${letter}`, farads)).toEqual(onCapacitor);
  });

  test.each(["A", "H", "X", "k", "j", "KK", "constructor", "__proto__"])("%s is no tolerance letter", (letter) => {
    expect(parseTolerance(letter)).toBeNull();
  });

  // Capacitor code tables: below 10 pF the letters B, C, D are ± 0.1, 0.25, 0.5 pF.
  test.each([
    ["4.7 pF B", 0.1 / 4.7],
    ["4p7C", 0.25 / 4.7],
    ["4p7 D", 0.5 / 4.7],
    ["9.9 pF D", 0.5 / 9.9],
    ["10 pF D", 0.005],
    ["4p7J", 0.05],
  ])("%s is a share of %d", (text, share) => {
    const marking = parsePartMarking(text, farads);
    expect(marking?.minus).toBeCloseTo(share, 14);
    expect(marking?.plus).toBe(marking?.minus);
  });

  test("a small capacitor's margin is printed in picofarads", () => {
    const { value, minus, plus } = parsePartMarking("4p7D", farads) ?? { value: NaN, minus: null, plus: null };
    expect(formatPart(value, minus, plus, farads)).toBe("4.7 pF ±0.5 pF");
  });
});

describe("markings as people write them", () => {
  // Common practice, no source.
  test.each([
    ["4k7 5%", 4700, 0.05, 0.05],
    ["4k7 ±5 %", 4700, 0.05, 0.05],
    ["4.7k 1 %", 4700, 0.01, 0.01],
    ["4K7J", 4700, 0.05, 0.05],
    ["470R J", 470, 0.05, 0.05],
    ["470RJ", 470, 0.05, 0.05],
    ["1M 20%", 1e6, 0.2, 0.2],
    ["1M M", 1e6, 0.2, 0.2],
    ["100R+/-1%", 100, 0.01, 0.01],
    ["10 kΩ ±50 ppm", 1e4, 50e-6, 50e-6],
    ["470K", 470e3, null, null],
    ["470 K", 470e3, null, null],
    ["47KK", 47e3, 0.1, 0.1],
    ["4.7 k\u2126", 4700, null, null],
  ])("%s", (text, value, minus, plus) => {
    expect(parsePartMarking(text, ohms)).toEqual({ value, minus, plus });
  });

  test.each([
    ["470 uF ±20 %", 470e-6, 0.2, 0.2],
    ["470 µF +/-20%", 470e-6, 0.2, 0.2],
    ["100n K", 100e-9, 0.1, 0.1],
    ["100nF", 100e-9, null, null],
    ["100 nF F", 100e-9, 0.01, 0.01],
    ["100 uF +80/-20 %", 100e-6, 0.2, 0.8],
    ["100uF -10/+50%", 100e-6, 0.1, 0.5],
    ["100uF +80% −20%", 100e-6, 0.2, 0.8],
    ["470 uF M", 470e-6, 0.2, 0.2],
  ])("%s", (text, value, minus, plus) => {
    expect(parsePartMarking(text, farads)).toEqual({ value, minus, plus });
  });

  test.each(["4n7F", "4n7 F", "100n F"])("%s is ambiguous: 1 % or farad", (text) => {
    expect(parsePartMarking(text, farads)).toBeNull();
  });

  test.each(["", "0 5%", "-4k7", "4k75%", "4k7 5", "470 J", "4,7k 5%", "4k7 100 %", "4k7 -5 %", "4k7 +5 %", "4k7 ±5 k", "5%", "J"])(
    "%j is not understood",
    (text) => {
      expect(parsePartMarking(text, ohms)).toBeNull();
    },
  );

  test("shares and texts of a tolerance alone", () => {
    expect(parseTolerance(0.05)).toEqual({ minus: 0.05, plus: 0.05 });
    expect(parseTolerance("0.05")).toEqual({ minus: 0.05, plus: 0.05 });
    expect(parseTolerance("+80/−20 %")).toEqual({ minus: 0.2, plus: 0.8 });
    for (const impossible of [5, -0.1, NaN, Infinity, "100 %", "-5 %", "0,05"]) expect(parseTolerance(impossible)).toBeNull();
  });
});

describe("preferred values", () => {
  // IEC 60063 (listing).
  const E6 = [10, 15, 22, 33, 47, 68];
  const E12 = [10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82];
  const E24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];
  // From memory.
  const E3 = [10, 22, 47];
  const E96 = [
    100, 102, 105, 107, 110, 113, 115, 118, 121, 124, 127, 130, 133, 137, 140, 143, 147, 150, 154, 158, 162, 165, 169, 174,
    178, 182, 187, 191, 196, 200, 205, 210, 215, 221, 226, 232, 237, 243, 249, 255, 261, 267, 274, 280, 287, 294, 301, 309,
    316, 324, 332, 340, 348, 357, 365, 374, 383, 392, 402, 412, 422, 432, 442, 453, 464, 475, 487, 499, 511, 523, 536, 549,
    562, 576, 590, 604, 619, 634, 649, 665, 681, 698, 715, 732, 750, 768, 787, 806, 825, 845, 866, 887, 909, 931, 953, 976,
  ];

  test("listed series", () => {
    expect(seriesValues("E3")).toEqual(E3);
    expect(seriesValues("E6")).toEqual(E6);
    expect(seriesValues("E12")).toEqual(E12);
    expect(seriesValues("E24")).toEqual(E24);
    expect(seriesValues("E96")).toEqual(E96);
  });

  // IEC 60063: each is every second value of the next.
  test.each<[SeriesName, SeriesName]>([["E6", "E12"], ["E12", "E24"], ["E48", "E96"], ["E96", "E192"]])(
    "%s is every second value of %s",
    (coarse, fine) => {
      expect(seriesValues(coarse)).toEqual(seriesValues(fine).filter((_, index) => index % 2 === 0));
    },
  );

  // IEC 60063 (listing) against calculation: rounding would give 26 29 32 35 38 42 46 83.
  test("E24 departs from the rounding rule in eight places", () => {
    const departures = seriesValues("E24").filter((value, i) => value !== Math.round(10 * 10 ** (i / 24)));
    expect(departures).toEqual([27, 30, 33, 36, 39, 43, 47, 82]);
  });

  // Listing and calculation; 920 from memory.
  test.each<[SeriesName, number]>([["E48", 48], ["E96", 96], ["E192", 192]])("%s follows the rounding rule but for 920", (name, n) => {
    const values = seriesValues(name);
    expect(values).toHaveLength(n);
    const departures = values.filter((value, i) => value !== Math.round(100 * 10 ** (i / n)));
    expect(departures).toEqual(name === "E192" ? [920] : []);
  });

  // Calculation.
  test("E24 and E96 share only six values", () => {
    expect(seriesValues("E24").map((value) => value * 10).filter((value) => seriesValues("E96").includes(value)))
      .toEqual([100, 110, 130, 150, 200, 750]);
  });

  test("values between limits are exact and include both ends", () => {
    expect(preferredBetween("E6", 1e-4, 1e-3)).toEqual([0.0001, 0.00015, 0.00022, 0.00033, 0.00047, 0.00068, 0.001]);
    expect(preferredBetween("E12", 4000, 7000)).toEqual([4700, 5600, 6800]);
    expect(preferredBetween("E96", 9.76e5, 1.02e6)).toEqual([976000, 1000000, 1020000]);
    expect(preferredBetween("E24", 5, 4)).toEqual([]);
    expect(() => preferredBetween("E24", 0, 1)).toThrow(RangeError);
    expect(() => preferredBetween("E24", 1, Infinity)).toThrow(RangeError);
  });
});
