import type { SceneRecord } from "../engine/record.js";
import { lowestBit } from "../engine/sceneset.js";
import type { Micros } from "../units/time.js";

/** A stretch of open time for which one house was dark; microseconds of the calendar. */
export interface DarkSpell {
  readonly house: number;
  readonly start: Micros;
  readonly length: Micros;
}

/** The longest time for which any house stays dark, in microseconds; 0 where none ever is. */
export function longestDark(record: SceneRecord): number {
  return longestDarkSpell(record)?.length ?? 0;
}

/**
 * The longest dark spell of any house, cut at opening and closing; null where none is dark. Spells are looked at as they
 * end, so that of several that are as long the one that begins first is kept. Looks at the houses that change from scene to
 * scene, without asking beforehand which way: that nobody could foresee, and a processor that guesses wrongly loses more time
 * than the difference takes.
 */
export function longestDarkSpell(record: SceneRecord): DarkSpell | null {
  const { spellStart, spellScene, scenes } = record;
  const { masks, words } = scenes;
  const houses = record.scenario.houses.length;
  /** Since when each house has been as it is. */
  const since = new Float64Array(houses);
  let longest: DarkSpell = { house: 0, start: 0, length: 0 };
  // the same by itself, which is asked for at every change
  let most = 0;
  for (const { first, end: behind, from, until } of record.openings) {
    since.fill(from);
    for (let i = first + 1; i < behind; i++) {
      const start = spellStart[i]!;
      const before = spellScene[i - 1]! * words;
      const after = spellScene[i]! * words;
      for (let w = 0; w < words; w++) {
        const is = masks[after + w]!;
        for (let changed = masks[before + w]! ^ is; changed !== 0; changed &= changed - 1) {
          const bit = lowestBit(changed);
          const house = 32 * w + bit;
          // 0 for a house that goes dark
          const length = ((is >>> bit) & 1) * (start - since[house]!);
          if (length > most) {
            longest = { house, start: since[house]!, length };
            most = length;
          }
          since[house] = start;
        }
      }
    }
    for (let house = 0; house < houses; house++) {
      const length = until - since[house]!;
      if (length > most && !scenes.isLit(spellScene[behind - 1]!, house)) {
        longest = { house, start: since[house]!, length };
        most = length;
      }
    }
  }
  return most === 0 ? null : longest;
}
