import type { Trimmer } from "../model/timer.js";

/** Resistance share of a logarithmic track at half travel (common practice, no source: 10 % for taper A). */
const LOG_BASE = 81;

/**
 * Share of the trimmer's resistance that is in circuit when the knob stands at `dial` (share of its travel, 0 … 1).
 * The logarithmic taper is the exponential law through 0, 10 % at half travel, and 1.
 */
export function trackShare(taper: Trimmer["taper"], dial: number): number {
  return taper === "linear" ? dial : (LOG_BASE ** dial - 1) / (LOG_BASE - 1);
}

/** The knob position for a resistance share: inverse of {@link trackShare}. */
export function dialFor(taper: Trimmer["taper"], share: number): number {
  return taper === "linear" ? share : Math.log1p(share * (LOG_BASE - 1)) / Math.log(LOG_BASE);
}
