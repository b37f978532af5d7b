/** What is soldered together on one board, as data. */

/** A terminal of a device. */
export interface Pin {
  /** Unique on its device. */
  readonly name: string;
  /** Null where there is none: a lead, a rail, or a terminal whose pin is for its data sheet to say. */
  readonly number: number | null;
}

export type Role = "supply" | "plus" | "minus" | "timer" | "divider" | "counter" | "driver" | "part" | "house" | "board";

/** A thing that wires end at. */
export interface Device {
  readonly role: Role;
  /** What the card calls it: "driver 2", "Ra", the name of a house. */
  readonly name: string;
  /** What it is: the type of a chip, the value of a part. */
  readonly type: string;
  /** All pins of a chip; of anything else the terminals that are used. */
  readonly pins: readonly Pin[];
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
  /** What is not in the wires but has to be known. */
  readonly remarks: readonly string[];
}

/** True for a chip whose pins are in the catalogue. */
export function isChip({ pins }: Device): boolean {
  return pins.some(({ number }) => number !== null);
}
