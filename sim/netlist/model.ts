import type { StartPulse } from "../parts/startpulse.js";

/** What is soldered together on one board, as data. */

/** A terminal of a device. */
export interface Pin {
  /** Unique on its device. */
  readonly name: string;
  /** Null where there is none: a lead, a rail, or a terminal of a programmed or ready-made part. */
  readonly number: number | null;
}

export type Role = "supply" | "plus" | "minus" | "timer" | "divider" | "counter" | "gate" | "driver" | "part" | "house" | "board";

/** What has to be bought for a device. */
export interface Goods {
  /** A plain noun. */
  readonly what: "resistor" | "capacitor" | "chip" | "socket" | "diode" | "trimmer" | "lamp" | "fuse" | "connector" | "wire";
  /** As printed on the part: "430 Ω", "4017". */
  readonly value: string;
  /** Such as "0.25 W" or "25 V"; null where there is none. */
  readonly rating: string | null;
  /** Pieces; metres of wire. */
  readonly count: number;
}

/** A thing that wires end at. */
export interface Device {
  readonly role: Role;
  /** What the card calls it: "driver 2", "Ra", the name of a house. */
  readonly name: string;
  /** What it is: the type of a chip, the value of a part. */
  readonly type: string;
  /** All pins of a chip; of anything else the terminals that are used. */
  readonly pins: readonly Pin[];
  /** Empty for what is there already: rails, other boards, lamps that another board's card counts. */
  readonly goods: readonly Goods[];
}

/** Where a wire ends. */
export interface End {
  readonly device: Device;
  readonly pin: Pin;
}

export interface Wire {
  /** From 1, in the order of soldering. */
  readonly number: number;
  readonly from: End;
  readonly to: End;
  readonly purpose: string;
  /** Indices of the houses that go dark without it; empty where that is no house in particular. */
  readonly houses: readonly number[];
}

export interface Netlist {
  readonly devices: readonly Device[];
  readonly wires: readonly Wire[];
  /** The terminal of each counter output, by its number. */
  readonly outputs: readonly End[];
  /** The reset at switch-on; null on a board that needs none. */
  readonly start: StartPulse | null;
  /** The kind of lamp that a card need not name where a house has one of it. */
  readonly usualLamp: string;
  /** What is not in the wires but has to be known. */
  readonly remarks: readonly string[];
}

/** True for a chip whose pins are in the catalogue. */
export function isChip({ pins }: Device): boolean {
  return pins.some(({ number }) => number !== null);
}
