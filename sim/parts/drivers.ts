import type { DriverKind } from "../model/scenario.js";
import { COMMON_PRACTICE, type Figure } from "./figure.js";

/** What is known about a kind of driver. A channel switches the lamps of one counter output to ground. */
export interface Driver {
  readonly name: string;
  readonly channelsInPackage: number;
  /** Largest current of one channel, ampere. */
  readonly channelAmps: Figure;
  /** Largest current of one channel for the moment of switching on, ampere. */
  readonly peakAmps: Figure;
  /** Largest current of all channels of one package together, ampere; null where a package has one channel. */
  readonly packageAmps: Figure | null;
  /** Junction to air, K/W. */
  readonly thermal: Figure;
  /** Highest junction temperature, °C. */
  readonly junction: Figure;
  /** Volts lost in a channel at a current in ampere. */
  drop(amps: number, which: "typical" | "most"): number;
  readonly dropSource: string;
}

/** Collector-emitter saturation voltage of a Darlington channel, with the input current it is measured at. */
const SATURATION_POINTS = [
  { amps: 0.1, typical: 0.9, most: 1.1, input: 250e-6 },
  { amps: 0.2, typical: 1.1, most: 1.3, input: 350e-6 },
  { amps: 0.35, typical: 1.3, most: 1.6, input: 500e-6 },
] as const;

const SATURATION_SOURCE =
  "Toshiba 2003-type sheet, p. 4 (the seven-channel sister of the 2803 type): 0.9/1.1 V at 100 mA, 1.1/1.3 V at 200 mA, 1.3/1.6 V " +
    "at 350 mA";

/** Saturation voltage by current: straight lines through the published points, and on beyond them. */
export function saturationVolts(amps: number, which: "typical" | "most"): number {
  const [first, second, third] = SATURATION_POINTS;
  const [a, b] = amps <= second.amps ? [first, second] : [second, third];
  return a[which] + ((b[which] - a[which]) * (amps - a.amps)) / (b.amps - a.amps);
}

/** Input of a Darlington channel: a series resistor and two base-emitter junctions. */
export const DARLINGTON_INPUT = {
  ohms: { value: 2.7e3, source: "TI ULN2803A, SLRS049C: 2.7 kΩ" },
  volts: { value: 1.4, source: "two base-emitter junctions; from memory" },
} as const satisfies Record<string, Figure>;

/**
 * Input current, ampere, at which a Darlington channel is published to saturate at this load: 0.15 mA and a thousandth
 * of the load, which passes through all three points of {@link SATURATION_POINTS}.
 */
export function saturatingInput(amps: number): number {
  return 150e-6 + amps / 1000;
}

/** Logic-level MOSFET: resistance when on, ohms, and the least gate voltage for it. */
const MOSFET_ON = { ohms: 0.1, gate: { value: 4.5, source: `logic-level MOSFET, fully on at 4.5 V; ${COMMON_PRACTICE}` } } as const;

export const MOSFET_GATE: Figure = MOSFET_ON.gate;

export const DRIVERS: Readonly<Record<DriverKind, Driver>> = {
  "darlington-8": {
    name: "eight-channel Darlington array of the 2803 type",
    channelsInPackage: 8,
    channelAmps: { value: 0.5, source: "TI ULN2803A, SLRS049C: 500 mA" },
    peakAmps: { value: 0.6, source: "ST ULN2803A, DocID1536 rev 4: 600 mA peak" },
    packageAmps: { value: 2.5, source: "ground pin of the 2803 type; from memory" },
    thermal: { value: 55, source: "Motorola ULN2803/D rev 1: 55 °C/W" },
    junction: { value: 125, source: "Motorola ULN2803/D rev 1: 125 °C" },
    drop: saturationVolts,
    dropSource: SATURATION_SOURCE,
  },
  mosfet: {
    name: "logic-level MOSFET",
    channelsInPackage: 1,
    // a small-signal 2N7000 allows 200 mA and has up to 5 Ω (NTE 2N7000 sheet)
    channelAmps: { value: 2, source: `logic-level MOSFET without heat sink, 2 A (a 2N7000 allows 200 mA); ${COMMON_PRACTICE}` },
    peakAmps: { value: 10, source: `logic-level MOSFET, 10 A for some milliseconds; ${COMMON_PRACTICE}` },
    packageAmps: null,
    thermal: { value: 65, source: "TO-220 case in free air, 65 °C/W (Fairchild LM78XX rev 1.3.1, p. 2)" },
    junction: { value: 150, source: `silicon MOSFET, 150 °C; ${COMMON_PRACTICE}` },
    drop: (amps) => amps * MOSFET_ON.ohms,
    dropSource: `logic-level MOSFET, at most 0.1 Ω when on; ${COMMON_PRACTICE}`,
  },
};

/** Pins of the 2803 type: input k of 1 … 8 is opposite its output (TI ULN2803A, SLRS049C, G). */
export const DARLINGTON_PINS = {
  inputs: [1, 2, 3, 4, 5, 6, 7, 8],
  outputs: [18, 17, 16, 15, 14, 13, 12, 11],
  ground: 9,
  /** Common of the clamp diodes: to plus when coils are switched, open with lamps. */
  common: 10,
} as const;
