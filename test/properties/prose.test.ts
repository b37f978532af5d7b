import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { formatClock, parseClock } from "../../sim/units/clock.js";
import { duration } from "../../sim/units/quantities.js";
import { percent, plain, spokenDuration } from "../../sim/units/text.js";

const SETTINGS = { seed: 20240607, numRuns: 500 };

describe("time of day", () => {
  const DAY = 86_400_000_000;

  test("reads back what it printed", () => {
    const time = fc.oneof(
      fc.integer({ min: 0, max: DAY }),
      fc.integer({ min: 0, max: 86_400 }).map((seconds) => seconds * 1e6),
      fc.integer({ min: 0, max: 1440 }).map((minutes) => minutes * 60e6),
    );
    fc.assert(
      fc.property(time, (us) => {
        expect(parseClock(formatClock(us))).toBe(us);
      }),
      SETTINGS,
    );
  });

  test.each([
    ["10:00", 36_000e6, "10:00"],
    ["7:30", 27_000e6, "07:30"],
    ["10:00:30", 36_030e6, "10:00:30"],
    ["10:00:00.25", 36_000.25e6, "10:00:00.25"],
    ["24:00", DAY, "24:00"],
  ])("%s", (text, us, printed) => {
    expect(parseClock(text)).toBe(us);
    expect(formatClock(us)).toBe(printed);
  });

  test.each(["24:00:01", "25:00", "10:60", "10:00:60", "10", "10:0", "-1:00", "10:00 pm", "10:00:00.0000001", "100:00"])("%s is none", (text) => {
    expect(parseClock(text)).toBeNull();
  });

  test("only times of one day are printed", () => {
    for (const us of [-1, 0.5, NaN, DAY + 1]) expect(() => formatClock(us)).toThrow(RangeError);
  });
});

describe("numbers for prose", () => {
  test.each([
    [0.000001234, 2, "0.0000012"],
    [1 / 3, 3, "0.333"],
    [123_456_789, 2, "120000000"],
    [1e9, 5, "1000000000"],
    [-0, 3, "0"],
    [Infinity, 3, "∞"],
  ])("plain(%d, %d)", (value, digits, text) => {
    expect(plain(value, digits)).toBe(text);
  });

  test("plain keeps the digits it promises", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e9, noNaN: true }), fc.integer({ min: 1, max: 15 }), (value, digits) => {
        const text = plain(value, digits);
        expect(text).not.toContain("e");
        expect(text.replace(".", "").replace(/^0+/, "").replace(/0+$/, "").length).toBeLessThanOrEqual(digits);
        expect(Math.abs(Number(text) - value)).toBeLessThanOrEqual(value * 0.5000001 * 10 ** (1 - digits));
      }),
      SETTINGS,
    );
  });

  test.each([
    [0, "0 %"], [1, "100 %"], [0.023, "2.3 %"], [0.0004, "0.04 %"], [0.00001, "< 0.01 %"], [-0.00001, "> -0.01 %"],
    [0.0997, "10 %"], [0.1234, "12.3 %"], [0.99999, "> 99.9 %"], [-0.5, "-50 %"], [1.5, "150 %"],
  ])("percent(%d)", (share, text) => {
    expect(percent(share)).toBe(text);
  });

  test.each([
    [0, "0 s"], [0.00025, "250 µs"], [0.25, "250 ms"], [0.99999, "1 s"], [12.44, "12.4 s"], [59.98, "1 min"], [200.2, "3 min 20 s"],
    [3599.7, "1 h"], [3900, "1 h 5 min"], [86_400, "24 h"], [172_799, "2 d"], [273_600, "3 d 4 h"], [-90, "-1 min 30 s"],
  ])("spokenDuration(%d)", (seconds, text) => {
    expect(spokenDuration(seconds)).toBe(text);
  });

  test("a spoken duration is a duration, and close", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-5, max: 1e7, noNaN: true }), (seconds) => {
        const spoken = duration.parse(spokenDuration(seconds)) ?? NaN;
        expect(Math.abs(spoken - seconds) / seconds).toBeLessThan(0.011);
      }),
      SETTINGS,
    );
  });
});
