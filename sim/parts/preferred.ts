import type { Figure } from "./figure.js";
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

/** A knob's travel, degrees: what stops it, and over how much of that the track changes. */
export const KNOB_TURN = {
  mechanical: { value: 300, source: "Omeg P20 and Bourns 3386P sheets: 300° mechanical" },
  electrical: { value: 250, source: "250° or more (Bourns 3386P sheet), 256° (Omeg P20 sheet)" },
} as const satisfies Record<string, Figure>;

/** What is left of a track with the knob at its end, ohms. */
export function endResistance(track: number): number {
  return Math.max(END_SHARE * track, END_OHMS);
}

const END_SHARE = 0.01;
const END_OHMS = 2;

export const END_SOURCE = "end resistance at most 1 % of the track or 2 Ω, whichever is more (Bourns 3386P sheet)";
