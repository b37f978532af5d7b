import { preferredBetween } from "../units/eseries.js";
import type { CapacitorType } from "./leakage.js";

/** Values that shops keep, in SI units (common practice, no source). */

export const TRIMMER_VALUES: readonly number[] = [
  10e3, 20e3, 22e3, 25e3, 47e3, 50e3, 100e3, 200e3, 220e3, 250e3, 470e3, 500e3, 1e6, 2e6,
];

/** E6 values of the kinds of capacitor from which timers are made. */
export const CAPACITOR_VALUES: Readonly<Record<Exclude<CapacitorType, "tantalum">, readonly number[]>> = {
  electrolytic: preferredBetween("E6", 1e-6, 4700e-6),
  "low-leakage": preferredBetween("E6", 1e-6, 470e-6),
  film: preferredBetween("E6", 0.1e-6, 10e-6),
};

/** Fixed resistors run from 1 kΩ to 1 MΩ here: less is asking much of the timer, more of the board. */
export const RESISTOR_RANGE = { from: 1e3, to: 1e6 } as const;

/** Ratios of binary dividers of the 4020, 4040 and 4060 types that are worth a chip more. */
export const DIVIDERS: readonly number[] = [16, 32, 64, 128, 256, 512, 1024, 2048, 4096, 8192, 16384];

/** Angle that the knob of a trimmer turns through, degrees (common practice, no source). */
export const KNOB_DEGREES = 270;
