import { preferredAbove } from "../units/eseries.js";
import type { DriverKind, Lamp } from "../model/scenario.js";
import { DRIVERS } from "./drivers.js";
import { COMMON_PRACTICE } from "./figure.js";
import { JOINING_DIODE } from "./joined.js";

/** The resistor in series with one string of bare LEDs. */
export interface SeriesResistor {
  /** What Ohm's law asks for. */
  readonly exact: number;
  /** The next larger value of the E24 series, so that the current is not exceeded. */
  readonly ohms: number;
  /** Watts that the resistor turns into heat at its lower limit. */
  readonly watts: number;
  /** Watts that the part to buy is made for. */
  readonly rated: number;
}

/** What lamps are switched through. */
export interface Channel {
  readonly driver: DriverKind;
  /** Whether a diode stands between driver and lamps. */
  readonly diode: boolean;
}

/** Of the E24 series (IEC 60063). */
const TOLERANCE = 0.05;

/** Sizes in which resistors are sold, watts. */
const SIZES = [0.25, 0.5, 1, 2, 3, 5] as const;

export const SERIES_RESISTOR_SOURCE = `resistors are sold for ${SIZES.join(", ")} W; ${COMMON_PRACTICE}`;

/**
 * The series resistor of `lamps` bare LEDs in a string on one driver channel, behind a diode where all outputs that switch
 * them have one. What is left for it is reckoned with the least that channel and diode lose, at the string's own current,
 * since that gives the LEDs most. Null for any other lamp, and where the forward voltages leave nothing.
 */
export function seriesResistor(lamp: Lamp, lamps: number, { driver, diode }: Channel, volts: number): SeriesResistor | null {
  if (lamp.led === null) return null;
  const lost = DRIVERS[driver].drop(lamp.amps, "typical") + (diode ? JOINING_DIODE.least.value : 0);
  const left = volts - lost - lamps * lamp.led.forward;
  if (left <= 0) return null;
  const exact = left / lamp.amps;
  const ohms = preferredAbove("E24", exact);
  const watts = left ** 2 / (ohms * (1 - TOLERANCE));
  return { exact, ohms, watts, rated: SIZES.find((size) => watts <= 0.8 * size) ?? SIZES[SIZES.length - 1]! };
}

/** Volts that are left for the resistor of a string when channel and diode, at a current in ampere, lose most. */
export function leastVoltsLeft(lamp: Lamp, lamps: number, { driver, diode }: Channel, volts: number, amps: number): number {
  return volts - DRIVERS[driver].drop(amps, "most") - (diode ? JOINING_DIODE.most.value : 0) - lamps * (lamp.led?.forward ?? 0);
}
