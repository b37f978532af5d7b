import { describe, expect, test } from "vitest";
import { SMALLEST_RA, TIMER_CHIPS, TIMER_PINS } from "../../sim/parts/chips.js";
import { COUNTER_SUPPLY, DECADE_COUNTER, outputResistance, SOURCE_POINTS } from "../../sim/parts/counters.js";
import { DARLINGTON_INPUT, DARLINGTON_PINS, DRIVERS, saturatingInput, saturationVolts } from "../../sim/parts/drivers.js";
import { publishedLeakage, usualRatedVolts } from "../../sim/parts/leakage.js";
import { driverPackages } from "../../sim/parts/packages.js";
import { CAPACITOR_VALUES, DIVIDERS, TRIMMER_VALUES } from "../../sim/parts/preferred.js";
import { FIXED_REGULATOR, heatLimit, regulatorHeat } from "../../sim/parts/regulators.js";
import { PART_TYPES } from "../../sim/parts/types.js";

describe("timer chips", () => {
  const { bipolar, cmos } = TIMER_CHIPS;

  test("pins of the eight-pin type (common practice, no source)", () => {
    expect(TIMER_PINS).toEqual(["GND", "TRIG", "OUT", "RESET", "CONT", "THRES", "DISCH", "VCC"]);
  });

  test("bipolar", () => {
    // TI SLFS022A p. 5, SLFS022F, SLFS022I 7.5: astable 2.25 % typical, no maximum; 150 ppm/C; 0.3 %/V
    expect(bipolar.errorTypical.value).toBe(0.0225);
    expect(bipolar.tempco).toBe(150e-6);
    expect(bipolar.supplyDrift.value).toBe(0.003);
    // Philips NE/SA/SE555/SE555C product data, 2003 Feb 14, p. 4: astable 13 % maximum
    expect(bipolar.error).toEqual({ minus: 0.13, plus: 0.13 });
    // TI SLFS022A p. 4: threshold 30 nA typical, 250 nA maximum; discharge 20 nA typical
    expect(bipolar.threshold).toBe(30e-9);
    expect(bipolar.thresholdLimit.value).toBe(250e-9);
    expect(bipolar.dischargeLeakage.value).toBe(20e-9);
    // NE/SA/LM 4.5-16 V; abs max 18 V: Diodes NE555 DS35112 rev 4
    expect(bipolar.supply).toMatchObject({ least: 4.5, most: 16, destroys: 18 });
  });

  test("largest RA + RB, bipolar", () => {
    // SLFS022 (Feb 1992) note 2: about 3.4 MOhm at 5 V, 10 MOhm at 15 V
    expect(bipolar.largestResistance(5).value).toBeCloseTo(3.4e6, 3);
    expect(bipolar.largestResistance(15).value).toBeCloseTo(10e6, 3);
    // never more than first principles allow: (V/3)/0.25 µA, and Fairchild LM555 note 4: 6.7 / 20 MOhm
    for (const volts of [4.5, 5, 9, 12, 15, 16]) {
      expect(bipolar.largestResistance(volts).value).toBeLessThan(volts / 3 / 250e-9);
      expect(bipolar.largestResistance(volts).value).toBeGreaterThan(3e6);
    }
    // from memory
    expect(SMALLEST_RA.value).toBe(1e3);
  });

  test("CMOS", () => {
    // Philips ICM7555, 31 Aug 1994, p. 339: astable 1 % typical, 5 % maximum
    expect(cmos.errorTypical.value).toBe(0.01);
    expect(TIMER_CHIPS.ICM7555.error).toEqual({ minus: 0.05, plus: 0.05 });
    // TI TLC555 SLFS043C p. 9: initial error 3 % maximum
    expect(TIMER_CHIPS.TLC555.error).toEqual({ minus: 0.03, plus: 0.03 });
    // TI LMC555 SNAS558N 5.6: 4.0, 4.8, 5.6 kHz at 12 V, so a period of -14/+20 %: the worst published, and so that of an unnamed chip
    for (const { error } of [cmos, TIMER_CHIPS.LMC555]) {
      expect((1 - error.minus) / 4800).toBeCloseTo(1 / 5600, 12);
      expect((1 + error.plus) / 4800).toBeCloseTo(1 / 4000, 12);
    }
    // TI LMC555 SNAS558N 5.6: 75 ppm/C; 0.3 %/V
    expect(cmos.tempco).toBe(75e-6);
    expect(cmos.supplyDrift.value).toBe(0.003);
    // TI TLC555 SLFS043C p. 8-9: 10 pA typical, 75 pA at the highest temperature for C grade; discharge 0.1 nA
    expect(cmos.threshold).toBe(10e-12);
    expect(cmos.thresholdLimit.value).toBe(75e-12);
    expect(cmos.dischargeLeakage.value).toBe(0.1e-9);
    // TLC555 2-15 V, abs 18 V: SLFS043C p. 1
    expect(TIMER_CHIPS.TLC555.supply).toMatchObject({ least: 2, most: 15, destroys: 18 });
    // abs max 18 V: Intersil ICM7555 p. 2-3; 15 V: TI LMC555 SNAS558N
    expect(TIMER_CHIPS.ICM7555.supply.destroys).toBe(18);
    expect(TIMER_CHIPS.LMC555.supply.destroys).toBe(15);
    expect(cmos.supply).toMatchObject({ least: 2, most: 15, destroys: 15 });
  });
});

describe("timing capacitors", () => {
  // Nichicon VR (UVR) series sheet, after 2 min: max(0.01 C V, 3 µA); worked limits: Nippon Chemi-Con FAQ on leakage
  // against time (2200 µF), the others from texts and the formula
  test.each([
    [2200e-6, 35, 770e-6],
    [47e-6, 40, 18.8e-6],
    [100e-6, 10, 10e-6],
    [10e-6, 16, 3e-6],
    [100e-6, 16, 16e-6],
  ])("electrolytic, %d F, %d V: %d A", (farads, rated, amps) => {
    expect(publishedLeakage("electrolytic", farads, rated).amps).toBeCloseTo(amps, 12);
  });

  // Nichicon KL series sheet: max(0.002 C V, 0.2 µA)
  test.each([
    [1e-6, 50, 0.2e-6],
    [220e-6, 16, 7.04e-6],
  ])("low-leakage, %d F, %d V: %d A", (farads, rated, amps) => {
    expect(publishedLeakage("low-leakage", farads, rated).amps).toBeCloseTo(amps, 14);
  });

  test("tantalum: max(0.01 C V, 0.5 µA), usual chip-tantalum convention (from memory)", () => {
    expect(publishedLeakage("tantalum", 1e-6, 25).amps).toBe(0.5e-6);
    expect(publishedLeakage("tantalum", 100e-6, 16).amps).toBeCloseTo(16e-6, 12);
  });

  test("film: R·C of the order of thousands of seconds (WIMA sheet heading: 3000 s)", () => {
    const { amps } = publishedLeakage("film", 10e-6, 12);
    expect((12 / amps) * 10e-6).toBeCloseTo(3000, 6);
  });

  // a 16 V part at 9 V keeps the 16 V figure
  test.each([
    [5, 16], [9, 16], [12, 16], [16, 25], [24, 25], [25, 35], [48, 50], [60, 63],
  ])("at %d V a part rated %d V is bought (common practice, no source)", (supply, rated) => {
    expect(usualRatedVolts(supply)).toBe(rated);
  });

  test("tolerances", () => {
    // Nichicon VR and KL series sheets: +/-20 % (M)
    expect(PART_TYPES.electrolytic.tolerance.value).toBe(0.2);
    expect(PART_TYPES["low-leakage"].tolerance.value).toBe(0.2);
    // tantalum maker's component characteristics page: within +/-10 % at 85 C
    expect(PART_TYPES.tantalum.warmth.value * (85 - 25)).toBeCloseTo(0.1, 12);
  });
});

describe("counters", () => {
  // 4000-series reference page citing TI CD4017B
  test("pins of the 4017 type", () => {
    expect(DECADE_COUNTER.outputs).toEqual([3, 2, 4, 7, 10, 1, 5, 6, 9, 11]);
    expect(DECADE_COUNTER.pins).toEqual({ carry: 12, inhibit: 13, clock: 14, reset: 15, ground: 8, supply: 16 });
  });

  test("no pin twice", () => {
    const { outputs, pins } = DECADE_COUNTER;
    const all = [...outputs, ...Object.values(pins)];
    expect(new Set(all).size).toBe(all.length);
    expect(all.every((pin) => pin >= 1 && pin <= 16)).toBe(true);
  });

  test("supply: 3-15 V, 18 V abs max (National CD4017B, Fairchild CD4017BC)", () => {
    expect(COUNTER_SUPPLY).toMatchObject({ least: 3, most: 15, destroys: 18 });
  });

  test("source current, CD4017B DC table at 25 C: 0.2 / 0.5 / 1.5 mA at 4.6 / 9.5 / 13.5 V", () => {
    expect(SOURCE_POINTS.map(({ output, amps }) => [output, amps])).toEqual([[4.6, 0.2e-3], [9.5, 0.5e-3], [13.5, 1.5e-3]]);
  });

  test("a loaded output promises no more than the sheet: at 5 V a CMOS output of this family keeps 2.4 of 3.2 mA", () => {
    // onsemi MC14022B p. 3: 0.51 mA at VOH 4.6 V, 2.4 mA at VOH 2.5 V, 5 V supply
    const byOhm = 0.51e-3 * (2.5 / 0.4);
    const share = 2.4e-3 / byOhm;
    expect(outputResistance(5)).toBeCloseTo(0.4 / 0.2e-3 / share, 6);
    expect(outputResistance(10)).toBeCloseTo(0.5 / 0.5e-3 / share, 6);
    expect(outputResistance(15)).toBeCloseTo(1.5 / 1.5e-3 / share, 6);
  });
});

describe("drivers", () => {
  const darlington = DRIVERS["darlington-8"];

  test("pins of the 2803 type (TI ULN2803A SLRS049C, G)", () => {
    expect(DARLINGTON_PINS).toEqual({
      inputs: [1, 2, 3, 4, 5, 6, 7, 8],
      outputs: [18, 17, 16, 15, 14, 13, 12, 11],
      ground: 9,
      common: 10,
    });
    // input k opposite output k
    DARLINGTON_PINS.inputs.forEach((pin, k) => expect(pin + DARLINGTON_PINS.outputs[k]!).toBe(19));
  });

  test("limits", () => {
    // SLRS049C: 500 mA a channel; 2.7 kOhm
    expect(darlington.channelAmps.value).toBe(0.5);
    expect(DARLINGTON_INPUT.ohms.value).toBe(2700);
    // Motorola ULN2803/D: RthJA 55 C/W, TJ max 125 C: 1.818 W at 25 C, 1.545 W at 40 C
    expect(heatLimit(darlington.junction.value, darlington.thermal.value, 25)).toBeCloseTo(1.818, 3);
    expect(heatLimit(darlington.junction.value, darlington.thermal.value, 40)).toBeCloseTo(1.545, 3);
    // from memory
    expect(darlington.packageAmps?.value).toBe(2.5);
  });

  // Toshiba 2003-type sheet p. 4 (seven-channel sister); 1.6 V at 350 mA also Toshiba 2803-type key figures
  test.each([
    [0.1, 0.9, 1.1, 250e-6],
    [0.2, 1.1, 1.3, 350e-6],
    [0.35, 1.3, 1.6, 500e-6],
  ])("saturation at %d A: %d V typical, %d V at most, with %d A of input", (amps, typical, most, input) => {
    expect(saturationVolts(amps, "typical")).toBeCloseTo(typical, 12);
    expect(saturationVolts(amps, "most")).toBeCloseTo(most, 12);
    expect(saturatingInput(amps)).toBeCloseTo(input, 12);
  });

  test("saturation rises steadily through the points and beyond", () => {
    for (const which of ["typical", "most"] as const) {
      for (let mA = 0; mA < 700; mA++) {
        expect(saturationVolts((mA + 1) / 1000, which)).toBeGreaterThan(saturationVolts(mA / 1000, which));
      }
    }
  });

  // (VI - 1.4)/2.7 k = 0.907 mA at 3.85 V; Toshiba 2803-type sheet: 1.35 mA at most, 0.93 mA typical (from memory)
  test("input current at 3.85 V", () => {
    const amps = (3.85 - DARLINGTON_INPUT.volts.value) / DARLINGTON_INPUT.ohms.value;
    expect(amps).toBeCloseTo(0.907e-3, 6);
    expect(Math.abs(amps - 0.93e-3) / 0.93e-3).toBeLessThan(0.05);
    expect(amps).toBeLessThan(1.35e-3);
  });

  test("ten connected outputs share two packages evenly, eight fit one", () => {
    const outputs = (n: number) => Array.from({ length: n }, () => [{ house: 0, lamps: 1, lamp: 0 }]);
    const driver = { kind: "darlington-8", thermal: null } as const;
    expect(driverPackages({ driver, outputs: outputs(10) })).toEqual([[0, 1, 2, 3, 4], [5, 6, 7, 8, 9]]);
    expect(driverPackages({ driver, outputs: outputs(8) })).toEqual([[0, 1, 2, 3, 4, 5, 6, 7]]);
    expect(driverPackages({ driver, outputs: [[], ...outputs(2), [], ...outputs(1)] })).toEqual([[1, 2, 4]]);
    expect(driverPackages({ driver, outputs: [[], []] })).toEqual([]);
  });
});

describe("regulator", () => {
  test("limits", () => {
    // TI LM340A SNOSBT0L 6.1, 6.5: dropout 2 V typical at 1 A, input max 35 V
    expect(FIXED_REGULATOR.dropout.value).toBe(2);
    expect(FIXED_REGULATOR.inputMost.value).toBe(35);
    // Fairchild LM78XX rev 1.3.1 p. 2: TO-220 65 C/W
    expect(FIXED_REGULATOR.thermal.value).toBe(65);
  });

  test("12 V to 5 V at 200 mA: 1.4 W, 91 K above the room at 65 K/W", () => {
    const watts = regulatorHeat(12, 5, 0.2);
    expect(watts).toBeCloseTo(1.4, 9);
    expect(watts * FIXED_REGULATOR.thermal.value).toBeCloseTo(91, 9);
  });
});

describe("values that shops keep", () => {
  // IEC 60063 (listing): E6
  const E6 = [10, 15, 22, 33, 47, 68];

  test("capacitors are E6", () => {
    for (const values of Object.values(CAPACITOR_VALUES)) {
      const mantissas = values.map((farads) => Number(farads.toExponential(6).slice(0, 3)) * 10);
      expect(mantissas.every((mantissa) => E6.includes(Math.round(mantissa)))).toBe(true);
    }
    expect(CAPACITOR_VALUES.electrolytic[0]).toBe(1e-6);
    expect(CAPACITOR_VALUES.electrolytic.at(-1)).toBe(4700e-6);
    expect(CAPACITOR_VALUES.film.at(-1)).toBe(10e-6);
  });

  test("trimmers rise, dividers double", () => {
    expect([...TRIMMER_VALUES].sort((a, b) => a - b)).toEqual(TRIMMER_VALUES);
    expect(DIVIDERS.map((ratio) => Math.log2(ratio))).toEqual([4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14]);
  });
});
