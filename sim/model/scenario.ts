import type { Timer } from "./timer.js";
import type { Wishes } from "./wishes.js";
import type { Micros, Seconds } from "../units/time.js";

/**
 * A scenario after reading: every reference resolved to an index, every quantity in SI units
 * (seconds, volts, amperes, ohms, farads, °C), every default filled in. Instants and lengths of the
 * calendar are integer microseconds. Nothing here knows how the file was written.
 */

export interface Scenario {
  readonly title: string;
  /** Text from which all random streams are derived. */
  readonly seed: string;
  /** Name of the file it was read from, for reports; never opened again. */
  readonly file: string;
  /** Name of a picture of the display, in whose pixels the places of houses are; null: there is none. */
  readonly picture: string | null;
  /** Metres that one unit of the picture coordinates `at` stands for; null: nobody says. */
  readonly scale: number | null;
  readonly opening: Opening;
  readonly room: Room;
  readonly visitors: Visitors;
  readonly supply: Supply;
  readonly lamps: readonly Lamp[];
  readonly houses: readonly House[];
  /** In file order; a `carry` board may stand before or after its source. */
  readonly boards: readonly Board[];
  readonly promises: readonly Promised[];
  /** What is wished of the arrangement of houses on outputs. */
  readonly wishes: Wishes;
  /** How a tolerance is read when builds are drawn. */
  readonly toleranceShape: "rectangular" | "normal";
  /** Values nobody wrote down, which the reader filled in: shown to the committee under "what was assumed". */
  readonly assumptions: readonly Assumption[];
  /** Values that are allowed and that hardly anybody means. */
  readonly warnings: readonly Warning[];
}

/** Something in the file that its author should look at again; no error. */
export interface Warning {
  /** Key path in the file, such as `lamps.window.amps`. */
  readonly path: string;
  /** Where it stands: file, line and column. */
  readonly place: string;
  /** What was found, and what may be meant. */
  readonly message: string;
}

/** A value that nobody wrote down and the reader filled in. */
export interface Assumption {
  /** Key path in the file, such as `boards.quay.timer.c.tempco`. */
  readonly path: string;
  readonly value: string;
  readonly source: string;
}

/** When the display is open and how long it is simulated; the calendar starts on a Monday. */
export interface Opening {
  /** Weekdays with an opening, 0 = Monday. */
  readonly days: readonly number[];
  /** Microseconds since midnight. */
  readonly from: Micros;
  readonly until: Micros;
  /** True: boards run through the closed hours. */
  readonly overnight: boolean;
  /** Number of openings to simulate. */
  readonly run: number;
}

/** Temperature of the room: mean + swing·cos(2π(t − warmest)/24 h), mean in °C and swing in kelvin. */
export interface Room {
  readonly mean: number;
  readonly swing: number;
  /** Microseconds since midnight. */
  readonly warmest: Micros;
}

/** How long a visitor stays, and after what times one comes back; microseconds. */
export interface Visitors {
  readonly stay: Micros;
  readonly returns: readonly Micros[];
}

/** What feeds the boards and lamps; volts, and the limit in ampere (null: nobody says). */
export interface Supply {
  /** What the boards and their lamps get: behind the regulator, where there is one. */
  readonly volts: number;
  readonly limit: number | null;
  readonly regulated: boolean;
  /** One linear regulator between the supply and everything else. */
  readonly regulator: Regulator | null;
  /** Stray clock pulses per hour and board. */
  readonly glitches: number;
}

/** A linear regulator. */
export interface Regulator {
  /** Volts at its input. */
  readonly input: number;
  /** Volts it needs between input and output. */
  readonly dropout: number;
  /** Junction to air, K/W, with the heat sink it has. */
  readonly thermal: number;
}

/** A kind of lamp. */
export interface Lamp {
  readonly id: string;
  /** Ampere through one lamp; through one string of them, where bare LEDs stand in series. */
  readonly amps: number;
  /** Rated voltage, when the kind was given as volts and watts. */
  readonly volts: number | null;
  /** How many times its current a lamp takes at switch-on, while its filament is cold; null for a lamp without one. */
  readonly cold: number | null;
  /** A bare LED, which needs a series resistor; null for any other lamp. */
  readonly led: Led | null;
}

/** Bare LEDs, whose series resistor is computed. */
export interface Led {
  /** Forward voltage of one LED, volts. */
  readonly forward: number;
  /** LEDs in series on one resistor. */
  readonly inSeries: number;
}

/** What a visitor sees as one thing that is lit or dark; `at` are picture coordinates, y downward. */
export interface House {
  readonly id: string;
  readonly name: string;
  readonly zone: string | null;
  readonly at: readonly [number, number] | null;
  /** `together`: all outputs that name the house switch the same lamps; `apart`: each output has lamps of its own. */
  readonly wired: "together" | "apart";
}

/** Lamps of one kind on an output: which house they light, and how many they are. */
export interface Load {
  /** Index into `houses`. */
  readonly house: number;
  readonly lamps: number;
  /** Index into `lamps`. */
  readonly lamp: number;
}

/** A free-running controller: a timer, a counter, drivers. */
export interface Board {
  readonly id: string;
  readonly timer: Timer;
  readonly counter: Counter;
  /** `thermal`: junction to air of one package, K/W; null: what is published for the kind. */
  readonly driver: { readonly kind: DriverKind; readonly thermal: number | null };
  /** For each counter output the lamps on its driver channel; empty where nothing is connected. */
  readonly outputs: readonly (readonly Load[])[];
  /** Where the board lies, in picture coordinates. */
  readonly at: readonly [number, number] | null;
}

/** An array of eight Darlington channels in a package, or a MOSFET for each channel. */
export type DriverKind = "darlington-8" | "mosfet";

// ---- counters ----

/** What goes through the steps, and which outputs are on at each. */
export type Counter = { readonly powerUp: "reset" | "anywhere" } & (
  | { readonly kind: "ring"; readonly steps: number }
  | { readonly kind: "johnson"; readonly stages: number }
  | { readonly kind: "binary"; readonly bits: number }
  | { readonly kind: "lfsr"; readonly bits: number; readonly taps: readonly number[] }
  | { readonly kind: "table"; readonly steps: readonly (readonly number[])[]; readonly hold: readonly number[] }
  | { readonly kind: "shuffle"; readonly steps: readonly (readonly number[])[] }
);

// ---- promises ----

/** A requirement that the committee or the builder wants kept; times in seconds, shares 0 … 1. */
export type Promised =
  | { readonly kind: "step"; readonly from: Seconds | null; readonly to: Seconds | null }
  | { readonly kind: "sceneLasts"; readonly from: Seconds | null; readonly to: Seconds | null }
  | { readonly kind: "litHouses"; readonly from: number | null; readonly to: number | null }
  | { readonly kind: "darkSpell"; readonly atMost: Seconds }
  | { readonly kind: "anyHour"; readonly atLeast: number }
  | { readonly kind: "effectiveScenes"; readonly atLeast: number }
  | { readonly kind: "repeatOnReturn"; readonly after: Seconds; readonly atMost: number }
  | { readonly kind: "repeatWithinStay"; readonly stay: Seconds; readonly atMost: number }
  | { readonly kind: "zoneLit"; readonly zone: string; readonly atLeast: number }
  | { readonly kind: "ratings" };

/** The promise of one kind. */
export type PromisedOf<Kind extends Promised["kind"]> = Extract<Promised, { readonly kind: Kind }>;
