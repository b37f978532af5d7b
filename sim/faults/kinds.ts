/** Kinds of single fault, the plainest first: common practice, no source. One wire comes off more often than a chip dies. */
export const FAULT_KINDS = [
  "wire-open",
  "lamp-out",
  "wires-swapped",
  "channel-open",
  "channel-on",
  "channels-joined",
  "no-clock",
  "held-in-reset",
  "knob-off",
  "track-open",
  "cap-leaky",
  "cap-aged",
  "start-part-open",
  "locked-up",
  "restarts",
  "no-supply",
] as const;
export type FaultKind = (typeof FAULT_KINDS)[number];

/** Faults with which a board steps at another pace. */
export const PACED: ReadonlySet<FaultKind> = new Set(["knob-off", "track-open", "cap-leaky", "cap-aged"]);

/** The kinds in plain words. */
export const KIND_WORDS: Readonly<Record<FaultKind, string>> = {
  "wire-open": "wire off",
  "lamp-out": "lamp out",
  "wires-swapped": "two wires swapped",
  "channel-open": "driver channel dead",
  "channel-on": "driver channel stuck on",
  "channels-joined": "two driver channels joined",
  "no-clock": "no clock pulses",
  "held-in-reset": "held in reset",
  "knob-off": "knob off its mark",
  "track-open": "dirty track of the knob",
  "cap-leaky": "leaky capacitor",
  "cap-aged": "aged capacitor",
  "start-part-open": "start pulse missing",
  "locked-up": "counter locked up",
  restarts: "begins anew now and then",
  "no-supply": "no supply",
};

/** What exactly is at fault. Houses by index, outputs by number, driver packages in order from 0. */
export type Spot =
  /** The wire from a driver channel to the lamps of a house, or one of those lamps. */
  | { readonly part: "house wire" | "lamp"; readonly output: number; readonly house: number }
  /** The plus wire from a board to a house. */
  | { readonly part: "house plus wire"; readonly house: number }
  /** The wire from a counter output to its driver channel, or the channel. */
  | { readonly part: "input wire" | "channel"; readonly output: number }
  /** The minus wire of a driver package. */
  | { readonly part: "driver minus wire"; readonly place: number }
  | { readonly part: "clock wire" | "clock" | "reset wire" | "reset" | "plus wire" | "minus wire" | "supply" | "display supply" }
  /** The wires of two channels of one driver, or the channels themselves. */
  | { readonly part: "channel wires" | "two channels"; readonly outputs: readonly [number, number] }
  | { readonly part: "track" | "capacitor" | "start" | "register" | "joint" }
  | { readonly part: "knob"; readonly turned: "long" | "short" };

/** One thing that may be wrong with a display. */
export interface Fault {
  readonly kind: FaultKind;
  /** Id of the board that has it; null: the whole display. */
  readonly board: string | null;
  /** Place on the board: "output 3 to inn", "output 3 (package 1, channel 4)", "clock", "supply", "reset", "knob, towards long steps". */
  readonly where: string;
  /** The fault and what hides it, in a sentence or two. */
  readonly text: string;
  readonly spot: Spot;
}
