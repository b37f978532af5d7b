import { describe, expect, test } from "vitest";
import { firstHighTime, highTime, lowTime, stalls } from "../../sim/timers/astable.js";

const VOLTS = 9;

/** Relative error. */
function off(value: number, expected: number): number {
  return Math.abs(value - expected) / expected;
}

const period = (ra: number, rb: number, c: number): number => highTime(VOLTS, ra + rb, c, 0) + lowTime(VOLTS, rb, c, 0);

describe("astable timer of the 555 type, no leakage", () => {
  // TI NA/NE/SA/SE555, SLFS022I, 8.3.2 eq. 1-7; ST NE555 Doc ID 2182 rev 6 p. 10. The printed constants are low by
  // 2.12e-4 (0.693) and 1.87e-3 (1.44) against exact.
  test.each([
    [5e3, 3e3, 0.15e-6],
    [100e3, 1e6, 10e-6],
    [1e3, 1e3, 100e-9],
  ])("RA %d, RB %d, C %d: the printed formulas", (ra, rb, c) => {
    expect(off(0.693 * (ra + rb) * c, highTime(VOLTS, ra + rb, c, 0))).toBeCloseTo(2.12e-4, 6);
    expect(off(0.693 * rb * c, lowTime(VOLTS, rb, c, 0))).toBeCloseTo(2.12e-4, 6);
    expect(off(1.44 / ((ra + 2 * rb) * c), 1 / period(ra, rb, c))).toBeCloseTo(1.87e-3, 5);
  });

  // SLFS022I 8.3.2 eq. 5-7
  test("shares of high and low time", () => {
    const [ra, rb, c] = [5e3, 3e3, 0.15e-6];
    const low = lowTime(VOLTS, rb, c, 0);
    const high = highTime(VOLTS, ra + rb, c, 0);
    expect(low / (high + low)).toBeCloseTo(rb / (ra + 2 * rb), 12);
    expect(high / (high + low)).toBeCloseTo(1 - rb / (ra + 2 * rb), 12);
    expect(low / high).toBeCloseTo(rb / (ra + rb), 12);
  });

  // components: SLFS022I fig. 13; results derived
  test("plotted example: RA 5 k, RB 3 k, C 0.15 µF", () => {
    const high = highTime(VOLTS, 8e3, 0.15e-6, 0);
    const low = lowTime(VOLTS, 3e3, 0.15e-6, 0);
    expect(off(high, 0.8317766e-3)).toBeLessThan(1e-6);
    expect(off(low, 0.3119162e-3)).toBeLessThan(1e-6);
    expect(off(high + low, 1.1436928e-3)).toBeLessThan(1e-6);
    expect(off(1 / (high + low), 874.3606)).toBeLessThan(1e-6);
    expect(off(1 / (high + low), 872.7273)).toBeLessThan(0.25e-2);
    expect(off(high / (high + low), 0.7272727)).toBeLessThan(1e-6);
  });

  // textbook lecture slides, figs 8-50 to 8-54
  test("worked example: 2 k, 1 k, 1 µF", () => {
    expect(off(highTime(VOLTS, 3e3, 1e-6, 0), 2.079442e-3)).toBeLessThan(1e-6);
    expect(off(lowTime(VOLTS, 1e3, 1e-6, 0), 0.693147e-3)).toBeLessThan(1e-6);
    expect(off(highTime(VOLTS, 3e3, 1e-6, 0), 2.1e-3)).toBeLessThan(1.1e-2);
    expect(off(lowTime(VOLTS, 1e3, 1e-6, 0), 0.7e-3)).toBeLessThan(1.1e-2);
  });

  // TI LMC555 SNAS558N / JAJSBA6N, 5.6 Switching characteristics: 4.0 to 5.6 kHz; R and C of the test circuit from memory
  test("test circuit: 1 k, 1 k, 0.1 µF", () => {
    const frequency = 1 / period(1e3, 1e3, 100e-9);
    expect(off(frequency, 4808.98)).toBeLessThan(1e-6);
    expect(frequency).toBeGreaterThan(4000);
    expect(frequency).toBeLessThan(5600);
  });

  // derived from the exact formulas
  test("long intervals: 100 k, 1 M, 10 µF", () => {
    expect(off(highTime(VOLTS, 1.1e6, 10e-6, 0), 7.624618986)).toBeLessThan(1e-9);
    expect(off(lowTime(VOLTS, 1e6, 10e-6, 0), 6.931471806)).toBeLessThan(1e-9);
    expect(off(period(100e3, 1e6, 10e-6), 14.55609079)).toBeLessThan(1e-9);
    expect(off(firstHighTime(VOLTS, 1.1e6, 10e-6, 0), 12.08473518)).toBeLessThan(1e-9);
  });

  // 1.1 R C: textbook lecture slides, fig. 8-49: 2 kOhm, 1 µF, 2.2 ms; exactly 2.197225 ms
  test("first charge from an empty capacitor", () => {
    const first = firstHighTime(VOLTS, 2e3, 1e-6, 0);
    expect(off(first, 2.2e-3)).toBeLessThan(0.2e-2);
    expect(off(first, 2.197225e-3)).toBeLessThan(1e-6);
    expect(off(first, 1.0986122886681097 * 2e-3)).toBeLessThan(1e-12);
  });
});

describe("a leaky capacitor", () => {
  // closed form tH = RC ln((V-IR-V/3)/(V-IR-2V/3)), tL = RB C ln((2V/3+I RB)/(V/3+I RB)), worked out with 30 digits
  test("9 V, 100 k, 1 M, 100 µF, 1 µA", () => {
    expect(off(highTime(9, 1.1e6, 100e-6, 1e-6), 104.2119451)).toBeLessThan(1e-8);
    expect(off(lowTime(9, 1e6, 100e-6, 1e-6), 55.9615788)).toBeLessThan(1e-8);
    expect(off(highTime(9, 1.1e6, 100e-6, 0), 76.2461899)).toBeLessThan(1e-8);
    expect(off(lowTime(9, 1e6, 100e-6, 0), 69.3147181)).toBeLessThan(1e-8);
    expect(off(firstHighTime(9, 1.1e6, 100e-6, 1e-6), 156.7509761)).toBeLessThan(1e-8);
    expect(off(firstHighTime(9, 1.1e6, 100e-6, 0), 120.8473518)).toBeLessThan(1e-8);
  });

  // never trips when I(RA+RB) >= V/3: 12 V, 2 MOhm: 2.0 µA
  test("stalls from V/3 over R1 on", () => {
    expect(stalls(12, 2e6, 2.0000001e-6)).toBe(true);
    expect(stalls(12, 2e6, 2e-6)).toBe(true);
    expect(stalls(12, 2e6, 1.9999999e-6)).toBe(false);
    expect(highTime(12, 2e6, 100e-6, 2.0000001e-6)).toBe(Infinity);
    expect(firstHighTime(12, 2e6, 100e-6, 2.0000001e-6)).toBe(Infinity);
    expect(off(highTime(12, 2e6, 100e-6, 1.9e-6), 608.9045)).toBeLessThan(1e-6);
  });

  test("the closed form is the charge put in, integrated by small steps", () => {
    const [volts, r1, r2, c, amps] = [12, 870e3, 430e3, 220e-6, 1.3e-6];
    const steps = 20_000;
    let high = 0;
    let low = 0;
    let first = 0;
    for (let i = 0; i < steps; i++) {
      const v = volts / 3 + ((i + 0.5) / steps) * (volts / 3);
      const w = ((i + 0.5) / steps) * ((2 * volts) / 3);
      high += (c * (volts / 3 / steps)) / ((volts - v) / r1 - amps);
      low += (c * (volts / 3 / steps)) / (v / r2 + amps);
      first += (c * ((2 * volts) / 3 / steps)) / ((volts - w) / r1 - amps);
    }
    expect(off(highTime(volts, r1, c, amps), high)).toBeLessThan(1e-7);
    expect(off(lowTime(volts, r2, c, amps), low)).toBeLessThan(1e-7);
    expect(off(firstHighTime(volts, r1, c, amps), first)).toBeLessThan(1e-7);
  });
});
