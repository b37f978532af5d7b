import { PART_TYPES, TRIMMER } from "../parts/types.js";
import type { CapacitorType } from "../parts/leakage.js";
import { CAPACITOR_VALUES, RESISTOR_RANGE, TRIMMER_VALUES } from "../parts/preferred.js";
import type { PartType } from "../model/timer.js";
import { preferredBetween, type SeriesName } from "../units/eseries.js";

/** A part to plan with: nominal value (ohm or farad) and how far an actual one may be off. */
export interface ShelfPart {
  readonly value: number;
  /** Tolerance as positive shares of the value. */
  readonly minus: number;
  readonly plus: number;
  /** Largest change per kelvin, either way. */
  readonly warmth: number;
}

/** Kinds of fixed resistor that a timer is built with. */
export type ResistorType = Extract<PartType, "carbon" | "metal">;

/** A fixed resistor to plan with. */
export interface ShelfResistor extends ShelfPart {
  readonly type: ResistorType;
}

/** A trimmer to plan with. */
export interface ShelfTrimmer extends ShelfPart {
  /** What is left of the track with the knob at its end, at most, ohms; null: as published for trimmers. */
  readonly end: number | null;
}

/** A capacitor to plan with. */
export interface ShelfCapacitor extends ShelfPart {
  readonly type: CapacitorType;
}

/** Parts to choose from. */
export interface Shelf {
  readonly resistors: readonly ShelfResistor[];
  readonly trimmers: readonly ShelfTrimmer[];
  readonly capacitors: readonly ShelfCapacitor[];
}

/** What every shop keeps: 1 % metal film resistors of a series, trimmers, electrolytic, low-leakage and film capacitors. */
export function usualShelf(series: SeriesName): Shelf {
  const capacitors = Object.entries(CAPACITOR_VALUES).flatMap(([type, values]) =>
    values.map((value) => ({ ...ofType(value, type as CapacitorType), type: type as CapacitorType })),
  );
  return {
    resistors: preferredBetween(series, RESISTOR_RANGE.from, RESISTOR_RANGE.to).map((value) => ({ ...ofType(value, "metal"), type: "metal" as const })),
    trimmers: TRIMMER_VALUES.map((value) => trimmerOf(value)),
    capacitors,
  };
}

/** A part with what its type says about it. */
export function ofType(value: number, type: PartType): ShelfPart {
  const tolerance = PART_TYPES[type].tolerance.value ?? 0;
  return { value, minus: tolerance, plus: tolerance, warmth: PART_TYPES[type].warmth.value };
}

export function trimmerOf(value: number): ShelfTrimmer {
  const tolerance = TRIMMER.tolerance.value;
  return { value, minus: tolerance, plus: tolerance, warmth: TRIMMER.warmth.value, end: null };
}
