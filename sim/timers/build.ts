import type { Leakage, Part } from "../model/timer.js";

/**
 * One set of actual part values: for each part its deviation as a share of its tolerance, −1 … +1. Keys are
 * `board.part`, for instance `quay.c`; a part that is missing has its nominal value. Number 0 is the nominal build.
 */
export interface Build {
  readonly number: number;
  readonly deviations: ReadonlyMap<string, number>;
}

/** Every part as its marking says. */
export const NOMINAL: Build = { number: 0, deviations: new Map() };

/** The actual value of a part in a build. */
export function actualValue(part: Part, deviation: number): number {
  return part.value * (1 + errorAt(part, deviation));
}

/** What is off, as a share, at a deviation of −1 … +1 between two limits. */
export function errorAt({ minus, plus }: { readonly minus: number; readonly plus: number }, deviation: number): number {
  return deviation * (deviation < 0 ? minus : plus);
}

/** The capacitor's leakage in ampere: typical at nominal, 0 … limit as its deviation goes from −1 to +1. */
export function actualLeakage(leakage: Leakage, deviation: number | undefined): number {
  if (leakage.limit === null || deviation === undefined) return leakage.typical;
  return (leakage.limit * (1 + deviation)) / 2;
}
