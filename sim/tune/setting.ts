import type { Seconds } from "../units/time.js";
import type { Judged } from "./judge.js";

/** A setting of all knobs, with what it was found to do. */
export interface TunedSetting extends Judged {
  /** Every board with a knob: step time, and where nominal parts have the knob then (share of its travel). */
  readonly boards: Readonly<Record<string, { readonly stepSeconds: Seconds; readonly dial: number }>>;
  /** By how much the closed form rises when the worst one of the knobs is off by the reading error. */
  readonly readingCost: number;
}
