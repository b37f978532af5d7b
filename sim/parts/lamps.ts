import type { House, Lamp, Load, Scenario } from "../model/scenario.js";
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
export function loadAmps(lamps: readonly Lamp[], loads: readonly LampSet[]): number {
  return loads.reduce((sum, load) => sum + lampAmps(lamps[load.lamp]!, load.lamps), 0);
}

/** A number of lamps of one kind. */
export type LampSet = Pick<Load, "lamp" | "lamps">;

/**
 * The lamps that stand in each house, by index. Wired together it has one set, of each kind as many as the output that
 * names most of it; wired apart each output has its own, and the house all of them.
 */
export function lampsOfHouses({ houses, boards }: Pick<Scenario, "houses" | "boards">): LampSet[][] {
  const standing = houses.map(() => new Map<number, number>());
  for (const loads of boards.flatMap(({ outputs }) => outputs)) {
    const here = new Map<string, { readonly house: number; readonly lamp: number; lamps: number }>();
    for (const { house, lamp, lamps } of loads) {
      const key = `${house} ${lamp}`;
      const known = here.get(key);
      if (known === undefined) here.set(key, { house, lamp, lamps });
      else known.lamps += lamps;
    }
    for (const { house, lamp, lamps } of here.values()) {
      const sets = standing[house]!;
      const known = sets.get(lamp) ?? 0;
      sets.set(lamp, isTogether(houses[house]!) ? Math.max(known, lamps) : known + lamps);
    }
  }
  return standing.map((sets) => [...sets].map(([lamp, lamps]) => ({ lamp, lamps })));
}

/**
 * What one driver channel has to carry: the lamps of its own, and all lamps of every house on it that is wired together,
 * since any of the channels that are on may carry them.
 */
export function channelLoads(houses: readonly House[], standing: readonly LampSet[][], loads: readonly Load[]): Load[] {
  const joined = [...new Set(loads.map(({ house }) => house))].filter((house) => isTogether(houses[house]!));
  return [
    ...loads.filter(({ house }) => !isTogether(houses[house]!)),
    ...joined.flatMap((house) => standing[house]!.map((set) => ({ ...set, house }))),
  ];
}

function isTogether({ wired }: House): boolean {
  return wired === "together";
}
