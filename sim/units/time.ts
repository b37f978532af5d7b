declare const unit: unique symbol;

/**
 * Microseconds: a moment (since the first Monday 00:00, or since midnight) or a length of time of the simulation. Whole,
 * and exact in a double for 285 years. A `Float64Array` of moments or lengths holds microseconds too.
 *
 * The mark exists for the compiler alone, so that seconds never stand where microseconds are meant. A plain number, as
 * arithmetic gives it, may become either.
 */
export type Micros = number & { readonly [unit]?: "microseconds" };

/** Seconds: what a person writes, reads and stops, and what formulas of circuits give. */
export type Seconds = number & { readonly [unit]?: "seconds" };

export const SECOND: Micros = 1_000_000;
export const MINUTE: Micros = 60 * SECOND;
export const HOUR: Micros = 60 * MINUTE;
export const DAY: Micros = 24 * HOUR;

/** Microseconds as seconds. */
export function toSeconds(micros: Micros): Seconds {
  return micros / SECOND;
}

/** Seconds to the nearest whole microsecond. */
export function toMicros(seconds: Seconds): Micros {
  return Math.round(seconds * SECOND);
}
