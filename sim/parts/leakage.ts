import type { PartType } from "../model/timer.js";
import { COMMON_PRACTICE } from "./figure.js";

/** Published limit of a capacitor's leakage. */
export interface PublishedLeakage {
  readonly amps: number;
  /** How it is reckoned, for people. */
  readonly rule: string;
  readonly source: string;
}

/** Kinds of capacitor for which a leakage limit is known. */
export type CapacitorType = Extract<PartType, "film" | "electrolytic" | "low-leakage" | "tantalum">;

/** Share of C·V per second, and the least limit that makers print, ampere. V is the rated voltage of the part. */
const RULES: Readonly<Record<Exclude<CapacitorType, "film">, { share: number; floor: number; rule: string; source: string }>> = {
  electrolytic: {
    share: 0.01,
    floor: 3e-6,
    rule: "the larger of 0.01·C·V (µF, V rated, gives µA) and 3 µA, after 2 min at rated voltage, 20 °C",
    source: "Nichicon VR (UVR) series sheet",
  },
  "low-leakage": {
    share: 0.002,
    floor: 0.2e-6,
    rule: "the larger of 0.002·C·V (µF, V rated, gives µA) and 0.2 µA, after 2 min at rated voltage",
    source: "Nichicon KL series sheet",
  },
  tantalum: {
    share: 0.01,
    floor: 0.5e-6,
    rule: "the larger of 0.01·C·V (µF, V rated, gives µA) and 0.5 µA",
    source: "usual chip-tantalum convention; from memory",
  },
};

/** Insulation of film capacitors, seconds (R·C): order of magnitude only. */
const FILM_SECONDS = 3000;

/** Published limit of the leakage of a capacitor, farad, with a rated voltage in volts. */
export function publishedLeakage(type: CapacitorType, farads: number, rated: number): PublishedLeakage {
  if (type === "film") {
    const amps = (farads * rated) / FILM_SECONDS;
    return { amps, rule: `C·V/${FILM_SECONDS} s, order of magnitude`, source: "WIMA sheet heading: 3000 s" };
  }
  const { share, floor, rule, source } = RULES[type];
  return { amps: Math.max(share * farads * rated, floor), rule, source };
}

/** Usual rated voltages of capacitors, volts (common practice, no source). */
const RATED_VOLTS = [16, 25, 35, 50, 63, 100];

/** The next usual rated voltage above a supply; what a builder would buy for it. */
export function usualRatedVolts(supply: number): number {
  return RATED_VOLTS.find((rated) => rated > supply) ?? RATED_VOLTS[RATED_VOLTS.length - 1]!;
}

/** By how much more a capacitor leaks at a room temperature, °C, than at the 20 °C of its sheet. */
export function warmLeakageFactor(theta: number): number {
  return 2 ** ((theta - 20) / 10);
}

export const WARM_LEAKAGE_SOURCE = `leakage about doubles for every 10 K; ${COMMON_PRACTICE}`;
