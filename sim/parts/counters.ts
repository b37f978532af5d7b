import type { Figure } from "./figure.js";

/** A ring counter chip of the 4000 series: pins, and what its outputs can deliver. */
export interface CounterChip {
  readonly name: string;
  /** Pin of each output, output 0 first. */
  readonly outputs: readonly number[];
  readonly pins: {
    readonly carry: number;
    /** Clock inhibit: counts only while low. */
    readonly inhibit: number;
    readonly clock: number;
    readonly reset: number;
    /** VSS, minus. */
    readonly ground: number;
    /** VDD, plus. */
    readonly supply: number;
  };
  readonly source: string;
}

/** Decade counter, 4017 type. Reset is asynchronous and brings output 0; it counts on the rising edge of the clock. */
export const DECADE_COUNTER: CounterChip = {
  name: "decade counter of the 4017 type",
  outputs: [3, 2, 4, 7, 10, 1, 5, 6, 9, 11],
  pins: { carry: 12, inhibit: 13, clock: 14, reset: 15, ground: 8, supply: 16 },
  source: "4000-series reference page citing TI CD4017B",
};

/** Recommended supply of the 4000 series, and the supply that destroys, volts. */
export const COUNTER_SUPPLY = {
  least: 3,
  most: 15,
  destroys: 18,
  source: "4000 series, 3 to 15 V (National CD4017B, Fairchild CD4017BC)",
  destroysSource: "4000 series, absolute maximum 18 V (National CD4017B, Fairchild CD4017BC)",
} as const;

/** Least source current of an output, ampere, with the output voltage at which it is measured, by supply in volts. */
export const SOURCE_POINTS = [
  { supply: 5, output: 4.6, amps: 0.2e-3 },
  { supply: 10, output: 9.5, amps: 0.5e-3 },
  { supply: 15, output: 13.5, amps: 1.5e-3 },
] as const;

/** What a counter chip takes for itself, ampere, at most. */
export const COUNTER_AMPS: Figure = { value: 0.6e-3, source: "4000 series, quiescent current of a counter at 85 °C, 15 V: 600 µA at " +
  "most; from memory" };

export const SOURCE_POINTS_SOURCE =
  "National and Fairchild CD4017B, least source current at 25 °C: 0.2, 0.5 and 1.5 mA at 4.6, 9.5 and 13.5 V " +
  "(onsemi MC14022B of the same family gives 0.51, 1.3 and 3.4 mA)";

/**
 * How much of the current that the points promise by Ohm's law is left when the output is drawn far below its supply:
 * at 5 V one sheet gives 0.51 mA with 0.4 V lost and 2.4 mA with 2.5 V lost.
 */
const LOADED_SHARE: Figure = {
  value: 2.4 / 0.51 / (2.5 / 0.4),
  source: "onsemi MC14022B, p. 3: 0.51 mA at 4.6 V, 2.4 mA at 2.5 V, 5 V supply",
};

/** Resistance of an output that sources a current, ohms, at a supply in volts: between the points a straight line. */
export function outputResistance(volts: number): number {
  const ohms = SOURCE_POINTS.map(({ supply, output, amps }) => (supply - output) / amps);
  const [low, middle, high] = ohms as [number, number, number];
  const between = (a: number, b: number, share: number): number => a + (b - a) * Math.min(1, Math.max(0, share));
  const plain = volts < 10 ? between(low, middle, (volts - 5) / 5) : between(middle, high, (volts - 10) / 5);
  return plain / LOADED_SHARE.value;
}
