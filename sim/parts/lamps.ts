import type { Lamp, Load } from "../model/scenario.js";
import type { Figure } from "./figure.js";

/** How many times its current a lamp takes while its filament is cold. */
export const COLD_FILAMENT: Figure = { value: 10, source: "cold filament, 10 to 12 times the hot current (Allegro AN 29501)" };

/**
 * The series strings that a number of lamps of one kind makes: for bare LEDs as many full strings as there are and a
 * shorter one for the rest, each with a resistor of its own; for any other kind one string a lamp.
 */
export function strings({ led }: Lamp, lamps: number): { readonly lamps: number; readonly count: number }[] {
  const inSeries = led?.inSeries ?? 1;
  const full = Math.floor(lamps / inSeries);
  const rest = lamps % inSeries;
  return [
    ...(full > 0 ? [{ lamps: inSeries, count: full }] : []),
    ...(rest > 0 ? [{ lamps: rest, count: 1 }] : []),
  ];
}

/** Ampere that a number of lamps of one kind take together: each string of LEDs takes the current of one. */
export function lampAmps(lamp: Lamp, lamps: number): number {
  return lamp.amps * Math.ceil(lamps / (lamp.led?.inSeries ?? 1));
}

/** Ampere through one driver channel: all the lamps on it together. */
export function loadAmps(lamps: readonly Lamp[], loads: readonly Load[]): number {
  return loads.reduce((sum, load) => sum + lampAmps(lamps[load.lamp]!, load.lamps), 0);
}
