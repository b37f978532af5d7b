import type { Seconds } from "../units/time.js";

/** Timers, and the parts that they are made of; SI units. */

/** What clocks the counter of a board. */
export type Timer = AstableTimer | MeasuredTimer | QuartzTimer | CarryTimer;

interface Clocked {
  /** Standard deviation of one timer period, relative. */
  readonly jitter: number;
  /** Relative growth of the step time per powered hour. */
  readonly drift: number;
}

/** An RC timer of the 555 type. */
export interface AstableTimer extends Clocked {
  readonly kind: "astable";
  readonly ra: Part;
  readonly rb: Part;
  readonly c: Capacitor;
  readonly leakage: Leakage;
  readonly trimmer: Trimmer | null;
  readonly chip: ChipKind | null;
  /** Timer periods in one step. */
  readonly divide: number;
  /** `diode`: one empties the capacitor when the supply goes, down to its own forward voltage. */
  readonly discharge: "diode" | "none";
}

/** A built board timed with a stopwatch, ± the reading, in seconds; tempco per kelvin. */
export interface MeasuredTimer extends Clocked {
  readonly kind: "measured";
  /** At the room's mean temperature. */
  readonly step: Seconds;
  readonly reading: Seconds;
  readonly tempco: number;
}

/** A programmed controller; the tolerance is a share of the step. */
export interface QuartzTimer extends Clocked {
  readonly kind: "quartz";
  readonly step: Seconds;
  readonly tolerance: number;
}

/** One pulse each time another board comes back to its first step. */
export interface CarryTimer {
  readonly kind: "carry";
  /** Index into `boards`. */
  readonly from: number;
}

/** A family of timer chips, or one published type of the CMOS family. */
export type ChipKind = "bipolar" | "cmos" | "LMC555" | "TLC555" | "ICM7555";

/** Kinds of part that have published defaults. */
export type PartType = "carbon" | "metal" | "film" | "electrolytic" | "low-leakage" | "tantalum";

/** A resistor in ohms or a capacitor in farads, with its limits. */
export interface Part {
  readonly value: number;
  /** Tolerance as positive shares of the value: actual parts lie in value·(1 − minus) … value·(1 + plus). */
  readonly minus: number;
  readonly plus: number;
  /** Per kelvin, from 25 °C. */
  readonly tempco: number;
  readonly type: PartType | null;
}

/** A timing capacitor. */
export interface Capacitor extends Part {
  /** Working voltage, volts; null where the file gives none. */
  readonly volts: number | null;
}

/** Leakage of the timing capacitor in ampere. `limit` null: the same in every build. */
export interface Leakage {
  readonly typical: number;
  readonly limit: number | null;
  /** False when the file says nothing about it (0 is then assumed). */
  readonly given: boolean;
}

/** The knob: a variable resistor in series with one of the two. */
export interface Trimmer {
  readonly part: Part;
  readonly in: "ra" | "rb";
  readonly taper: "linear" | "log";
  readonly setting: KnobSetting;
}

/** Where a knob is put, share of its travel; or the step time to which a stopwatch sets it, ± the reading, in seconds. */
export type KnobSetting =
  | { readonly kind: "dial"; readonly dial: number }
  | { readonly kind: "step"; readonly step: Seconds; readonly reading: Seconds };
