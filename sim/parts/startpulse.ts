import { COMMON_PRACTICE, type Figure } from "./figure.js";

/** Pull-down at an input that a pulled wire would leave open, and at every reset input, ohms. */
export const PULL_DOWN: Figure = { value: 100e3, source: `100 kΩ; ${COMMON_PRACTICE}` };

/** The slowest supply that a reset at switch-on has to work with: seconds from nothing to full. */
export const SLOWEST_RAMP: Figure = { value: 0.2, source: "supplies come up in 30 to 100 ms, twice as slow allowed for; " +
  COMMON_PRACTICE };

/** Share of the supply that a 4000-series input is sure to take for high. */
export const HIGH_SHARE: Figure = { value: 0.7, source: `0.7 of the supply for a 4000-series input; ${COMMON_PRACTICE}` };

/** Volts lost in a small silicon diode. */
const DIODE_DROP: Figure = { value: 0.6, source: `0.6 V; ${COMMON_PRACTICE}` };

/** Capacitors for the reset, farad, with the tolerance at which they are bought (electrolytic, −20 %) and that of the resistors. */
const CAPACITORS = [1e-6, 2.2e-6, 4.7e-6, 10e-6, 22e-6, 47e-6, 100e-6, 220e-6] as const;
const SHORT = { capacitor: 0.8, resistor: 0.95 } as const;

/** Margins above the share that is needed: what is wished, with a capacitor of everyday size, and what has to do. */
const WISHED = 1.25;
const EVERYDAY = 47e-6;
const MARGIN = 1.05;

/** The reset of a board at switch-on: a capacitor from plus, resistors to minus. */
export interface StartPulse {
  readonly farads: number;
  /** All resistors that discharge it, in parallel, ohms. */
  readonly ohms: number;
  /** The highest that the reset inputs get on the slowest ramp, volts, with capacitor and resistors at their least. */
  readonly peak: number;
  /** What they need, volts. */
  readonly needed: number;
  /** Seconds after a sudden switch-on for which the reset may hold the counter, at most. */
  readonly holds: number;
}

/**
 * Peak of a high-pass of time constant `tau` (seconds) behind a supply that rises evenly within `ramp` seconds, as a share of
 * that supply: τ/T · (1 − e^(−T/τ)), which it reaches at the end of the ramp.
 */
export function rampPeak(tau: number, ramp: number): number {
  return (tau / ramp) * -Math.expm1(-ramp / tau);
}

/**
 * The capacitor for a reset at switch-on behind the slowest supply.
 *
 * @param volts the supply
 * @param resistors discharging resistors, ohms, in parallel
 * @param throughDiode whether the reset inputs are behind a diode
 */
export function startPulse(volts: number, resistors: readonly number[], throughDiode: boolean): StartPulse {
  const ohms = 1 / resistors.reduce((sum, each) => sum + 1 / each, 0);
  const drop = throughDiode ? DIODE_DROP.value : 0;
  const needed = HIGH_SHARE.value * volts;
  const peakOf = (farads: number): number =>
    volts * rampPeak(ohms * SHORT.resistor * farads * SHORT.capacitor, SLOWEST_RAMP.value) - drop;
  const farads =
    CAPACITORS.find((each) => each <= EVERYDAY && peakOf(each) >= WISHED * needed) ??
    CAPACITORS.find((each) => peakOf(each) >= MARGIN * needed) ??
    CAPACITORS[CAPACITORS.length - 1]!;
  // released at the latest at 0.3 of the supply, with parts at their largest
  const holds = ohms * farads * (2 - SHORT.resistor) * (2 - SHORT.capacitor) * Math.log(1 / (1 - HIGH_SHARE.value));
  return { farads, ohms, peak: peakOf(farads), needed, holds };
}
