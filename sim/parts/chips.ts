import type { ChipKind } from "../model/timer.js";
import { COMMON_PRACTICE, type Figure } from "./figure.js";

/** What is published about timer chips of the 555 type. */
export interface TimerChip {
  readonly name: string;
  /** Current into the threshold pin, ampere, typical. */
  readonly threshold: number;
  /** Largest initial timing error of an astable, as shares of its period: shorter by `minus`, longer by `plus`. */
  readonly error: { readonly minus: number; readonly plus: number };
  /** Typical temperature drift of an astable, per kelvin. */
  readonly tempco: number;
  readonly sources: { readonly threshold: string; readonly error: string; readonly tempco: string };
  /** Largest current into the threshold pin, ampere. */
  readonly thresholdLimit: Figure;
  /** Typical initial timing error of an astable, share. */
  readonly errorTypical: Figure;
  /** Typical change of an astable's times with the supply, share per volt. */
  readonly supplyDrift: Figure;
  /** Current into the open discharge pin, ampere, typical. */
  readonly dischargeLeakage: Figure;
  /** Supply range for running, and the absolute maximum that destroys, volts. */
  readonly supply: {
    readonly least: number;
    readonly most: number;
    readonly destroys: number;
    readonly source: string;
    readonly destroysSource: string;
  };
  /** The largest current into the closed discharge pin for which a figure is used, ampere, and the volts then lost at most. */
  readonly discharge: { readonly most: number; readonly volts: number; readonly source: string };
  /** Supply current that the chip itself takes at most, ampere. */
  readonly ownAmps: Figure;
  /** Largest RA + RB (with trimmer), ohms, at a supply in volts. */
  largestResistance(volts: number): Figure;
}

/** Beyond this, ohms, dust and flux on the board conduct as well as the resistor. */
const BOARD_RESISTANCE: Figure = { value: 10e6, source: `10 MΩ, above which the board's own leakage counts; ${COMMON_PRACTICE}` };

/**
 * TI's two figures for RA + RB joined by a straight line, and the larger one above 15 V. Fairchild's LM555, note 4,
 * allows twice as much (6.7 and 20 MΩ), which is V/3 over the largest threshold current with nothing to spare.
 */
function bipolarResistance(volts: number): Figure {
  const value = Math.min(10e6, 3.4e6 + (Math.max(volts, 4.5) - 5) * 0.66e6);
  return { value, source: "TI NE555, SLFS022 (Feb 1992), note 2: 3.4 MΩ at 5 V, 10 MΩ at 15 V" };
}

/** LMC555 at 12 V: 4.0, 4.8 and 5.6 kHz least, typical and most, the parts of the test circuit included. */
const LMC555_HERTZ = { least: 4.0e3, typical: 4.8e3, most: 5.6e3 } as const;

/** A CMOS type with what is the same for all of them here. */
const CMOS = {
  threshold: 10e-12,
  tempco: 75e-6,
  thresholdLimit: { value: 75e-12, source: "TI TLC555, SLFS043C, p. 8-9: 75 pA at the highest temperature, C grade" },
  supplyDrift: { value: 0.003, source: "TI LMC555, SNAS558N, 5.6: 0.3 %/V" },
  dischargeLeakage: { value: 0.1e-9, source: "TI TLC555, SLFS043C, p. 8-9: 0.1 nA typical, C grade" },
  ownAmps: { value: 1e-3, source: "CMOS timer, below 1 mA at 15 V; from memory" },
  discharge: { most: 10e-3, volts: 0.5, source: "TLC555 type, at 10 mA and 5 V no more than 0.5 V are lost; from memory" },
  largestResistance: () => BOARD_RESISTANCE,
} as const;

const CMOS_SOURCES = {
  threshold: "TI TLC555, SLFS043C, p. 8-9: 10 pA typical at 25 °C",
  tempco: "TI LMC555, SNAS558N, 5.6: 75 ppm/°C",
} as const;

const LMC555_ERROR = {
  error: {
    minus: (LMC555_HERTZ.most - LMC555_HERTZ.typical) / LMC555_HERTZ.most,
    plus: (LMC555_HERTZ.typical - LMC555_HERTZ.least) / LMC555_HERTZ.least,
  },
  source: "TI LMC555, SNAS558N, 5.6: 4.0, 4.8 and 5.6 kHz at 12 V, the parts of the test circuit included",
} as const;

const LMC555_MAXIMUM = "LMC555 type, absolute maximum 15 V (TI LMC555, SNAS558N)";

/**
 * What is published by family, and for some CMOS types by name. A CMOS chip without a name counts with the worst of the
 * published types in each respect.
 */
export const TIMER_CHIPS: Readonly<Record<ChipKind, TimerChip>> = {
  bipolar: {
    name: "bipolar timer of the 555 type",
    threshold: 30e-9,
    // TI prints 2.25 % typical and no maximum; the only published maximum seen is Philips' 13 %
    error: { minus: 0.13, plus: 0.13 },
    tempco: 150e-6,
    sources: {
      threshold: "TI NE555, SLFS022A, p. 4: 30 nA typical",
      error: "Philips NE/SA/SE555 product data, 14 Feb 2003, p. 4: astable 13 % maximum",
      tempco: "TI NE555, SLFS022I, 7.5: astable 150 ppm/°C typical",
    },
    thresholdLimit: { value: 250e-9, source: "TI NE555, SLFS022A, p. 4: 250 nA maximum" },
    errorTypical: { value: 0.0225, source: "TI NE555, SLFS022I, 7.5: astable 2.25 % typical" },
    supplyDrift: { value: 0.003, source: "TI NE555, SLFS022I, 7.5: astable 0.3 %/V typical" },
    dischargeLeakage: { value: 20e-9, source: "TI NE555, SLFS022A, p. 4: 20 nA typical, 100 nA maximum" },
    supply: { least: 4.5, most: 16, destroys: 18, source: "NE555 type, 4.5 to 16 V (Diodes NE555, " +
      "DS35112 rev 4)", destroysSource: "NE555 type, absolute maximum 18 V (Diodes NE555, DS35112 rev 4)" },
    ownAmps: { value: 15e-3, source: "Fairchild LM555 rev 1.1.0, p. 3: 15 mA at most at 15 V" },
    discharge: { most: 15e-3, volts: 0.48, source: "ST NE555, Doc ID 2182 rev 6, p. 5: at 15 mA no more than 0.48 V are lost, the " +
      "largest current of the table" },
    largestResistance: bipolarResistance,
  },
  cmos: {
    ...CMOS,
    name: "CMOS timer of the 555 type",
    error: LMC555_ERROR.error,
    sources: { ...CMOS_SOURCES, error: `worst published CMOS type: ${LMC555_ERROR.source}` },
    errorTypical: { value: 0.01, source: "Philips ICM7555, 31 Aug 1994, p. 339: astable 1 % typical" },
    supply: {
      least: 2,
      most: 15,
      destroys: 15,
      source: "TLC555 type, 2 to 15 V (TI TLC555, SLFS043C, p. 1)",
      destroysSource: `the lowest published of the CMOS types: ${LMC555_MAXIMUM}`,
    },
  },
  LMC555: {
    ...CMOS,
    name: "CMOS timer LMC555",
    error: LMC555_ERROR.error,
    sources: { ...CMOS_SOURCES, error: LMC555_ERROR.source },
    errorTypical: { value: 0.01, source: "as the ICM7555; no typical error is printed for the LMC555" },
    supply: { least: 1.5, most: 15, destroys: 15, source: "LMC555 type, 1.5 to 15 V; from memory", destroysSource: LMC555_MAXIMUM },
  },
  TLC555: {
    ...CMOS,
    name: "CMOS timer TLC555",
    error: { minus: 0.03, plus: 0.03 },
    sources: { ...CMOS_SOURCES, error: "TI TLC555, SLFS043C, p. 9: initial error of timing interval 3 % maximum, 5 to 15 V" },
    errorTypical: { value: 0.01, source: "TI TLC555, SLFS043C, p. 9: 1 % typical" },
    supply: {
      least: 2,
      most: 15,
      destroys: 18,
      source: "TLC555 type, 2 to 15 V (TI TLC555, SLFS043C, p. 1)",
      destroysSource: "TLC555 type, absolute maximum 18 V (TI TLC555, SLFS043C)",
    },
  },
  ICM7555: {
    ...CMOS,
    name: "CMOS timer ICM7555",
    error: { minus: 0.05, plus: 0.05 },
    sources: { ...CMOS_SOURCES, error: "Philips ICM7555, 31 Aug 1994, p. 339: astable 5 % maximum" },
    errorTypical: { value: 0.01, source: "Philips ICM7555, 31 Aug 1994, p. 339: astable 1 % typical" },
    supply: {
      least: 2,
      most: 16,
      destroys: 18,
      source: "ICM7555 type, 2 to 16 V; 3 to 16 V over the widest temperatures (Intersil ICM7555, p. 2-3)",
      destroysSource: "ICM7555 type, absolute maximum 18 V (Intersil ICM7555, p. 2-3)",
    },
  },
};

/** The chips that a scenario can name. */
export const CHIP_KINDS = ["bipolar", "cmos", "LMC555", "TLC555", "ICM7555"] as const satisfies readonly ChipKind[];

/** Largest RA + RB for a chip that has no limit of its own. */
export const IDEAL_LARGEST_RESISTANCE = BOARD_RESISTANCE;

/** Smallest RA, ohms: the discharge transistor has to pull it down. */
export const SMALLEST_RA: Figure = { value: 1e3, source: "RA at least 1 kΩ; from memory" };

/** What stays on a capacitor that a diode empties into the dying supply, volts. */
export const DISCHARGE_DIODE: Figure = { value: 0.6, source: `silicon diode, about 0.6 V; ${COMMON_PRACTICE}` };

/** Pin names of the eight-pin 555 type, pin 1 first (common practice, no source). */
export const TIMER_PINS = ["GND", "TRIG", "OUT", "RESET", "CONT", "THRES", "DISCH", "VCC"] as const;
