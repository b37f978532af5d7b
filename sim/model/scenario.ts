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
  readonly opening: Opening;
  readonly room: Room;
  readonly visitors: Visitors;
  readonly supply: Supply;
  readonly lamps: readonly Lamp[];
  readonly houses: readonly House[];
  /** In file order; a `carry` board may stand before or after its source. */
  readonly boards: readonly Board[];
  readonly promises: readonly Promised[];
  /** How a tolerance is read when builds are drawn. */
  readonly toleranceShape: "rectangular" | "normal";
  /** Values nobody wrote down, which the reader filled in: shown to the committee under "what was assumed". */
  readonly assumptions: readonly Assumption[];
}

export interface Assumption {
  /** Key path in the file, such as `boards.quay.timer.c.tempco`. */
  readonly path: string;
  readonly value: string;
  readonly source: string;
}

export interface Opening {
  /** Weekdays with an opening, 0 = Monday. */
  readonly days: readonly number[];
  /** Microseconds since midnight. */
  readonly from: number;
  readonly until: number;
  /** True: boards run through the closed hours. */
  readonly overnight: boolean;
  /** Number of openings to simulate. */
  readonly run: number;
}

export interface Room {
  readonly mean: number;
  readonly swing: number;
  /** Microseconds since midnight. */
  readonly warmest: number;
}

export interface Visitors {
  /** Microseconds. */
  readonly stay: number;
  readonly returns: readonly number[];
}

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

export interface Regulator {
  /** Volts at its input. */
  readonly input: number;
  /** Volts it needs between input and output. */
  readonly dropout: number;
  /** Junction to air, K/W, with the heat sink it has. */
  readonly thermal: number;
}

export interface Lamp {
  readonly id: string;
  readonly amps: number;
  /** Rated voltage, when the kind was given as volts and watts. */
  readonly volts: number | null;
}

export interface House {
  readonly id: string;
  readonly name: string;
  readonly zone: string | null;
  readonly at: readonly [number, number] | null;
}

export interface Load {
  /** Index into `houses`. */
  readonly house: number;
  readonly lamps: number;
  /** Index into `lamps`. */
  readonly lamp: number;
}

export interface Board {
  readonly id: string;
  readonly timer: Timer;
  readonly counter: Counter;
  /** `thermal`: junction to air of one package, K/W; null: what is published for the kind. */
  readonly driver: { readonly kind: DriverKind; readonly thermal: number | null };
  /** For each counter output the lamps on its driver channel; empty where nothing is connected. */
  readonly outputs: readonly (readonly Load[])[];
}

export type DriverKind = "darlington-8" | "mosfet";

// ---- timers ----

export type Timer = AstableTimer | MeasuredTimer | QuartzTimer | CarryTimer;

interface Clocked {
  /** Standard deviation of one timer period, relative. */
  readonly jitter: number;
  /** Relative growth of the step time per powered hour. */
  readonly drift: number;
}

export interface AstableTimer extends Clocked {
  readonly kind: "astable";
  readonly ra: Part;
  readonly rb: Part;
  readonly c: Part;
  readonly leakage: Leakage;
  readonly trimmer: Trimmer | null;
  readonly chip: "bipolar" | "cmos" | null;
  /** Timer periods in one step. */
  readonly divide: number;
}

export interface MeasuredTimer extends Clocked {
  readonly kind: "measured";
  /** Seconds, at the room's mean temperature. */
  readonly step: number;
  readonly reading: number;
  readonly tempco: number;
}

export interface QuartzTimer extends Clocked {
  readonly kind: "quartz";
  readonly step: number;
  readonly tolerance: number;
}

export interface CarryTimer {
  readonly kind: "carry";
  /** Index into `boards`. */
  readonly from: number;
}

export type PartType = "carbon" | "metal" | "film" | "electrolytic" | "low-leakage" | "tantalum";

export interface Part {
  readonly value: number;
  /** Tolerance as positive shares of the value: actual parts lie in value·(1 − minus) … value·(1 + plus). */
  readonly minus: number;
  readonly plus: number;
  /** Per kelvin, from 25 °C. */
  readonly tempco: number;
  readonly type: PartType | null;
}

/** Leakage of the timing capacitor in ampere. `limit` null: the same in every build. */
export interface Leakage {
  readonly typical: number;
  readonly limit: number | null;
  /** False when the file says nothing about it (0 is then assumed). */
  readonly given: boolean;
}

export interface Trimmer {
  readonly part: Part;
  readonly in: "ra" | "rb";
  readonly taper: "linear" | "log";
  readonly setting: KnobSetting;
}

/** Where a knob is put, share of its travel; or the step time to which a stopwatch sets it, ± the reading, in seconds. */
export type KnobSetting =
  | { readonly kind: "dial"; readonly dial: number }
  | { readonly kind: "step"; readonly step: number; readonly reading: number };

// ---- counters ----

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
  | { readonly kind: "step"; readonly from: number | null; readonly to: number | null }
  | { readonly kind: "sceneLasts"; readonly from: number | null; readonly to: number | null }
  | { readonly kind: "litHouses"; readonly from: number | null; readonly to: number | null }
  | { readonly kind: "darkSpell"; readonly atMost: number }
  | { readonly kind: "anyHour"; readonly atLeast: number }
  | { readonly kind: "effectiveScenes"; readonly atLeast: number }
  | { readonly kind: "repeatOnReturn"; readonly after: number; readonly atMost: number }
  | { readonly kind: "repeatWithinStay"; readonly stay: number; readonly atMost: number }
  | { readonly kind: "zoneLit"; readonly zone: string; readonly atLeast: number }
  | { readonly kind: "ratings" };

/** The promise of one kind. */
export type PromisedOf<Kind extends Promised["kind"]> = Extract<Promised, { readonly kind: Kind }>;
