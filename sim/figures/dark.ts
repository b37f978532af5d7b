import type { SceneRecord } from "../engine/record.js";
import { lowestBit } from "../engine/sceneset.js";
import type { Micros } from "../units/time.js";

/** A stretch of open time for which one house was dark; microseconds of the calendar. */
export interface DarkSpell {
  readonly house: number;
  readonly start: Micros;
  readonly length: Micros;
}

/** Calls `visit` for every dark spell of every house, cut at opening and closing, in order of the spells' ends. */
function eachDarkSpell(record: SceneRecord, visit: (house: number, start: Micros, end: Micros) => void): void {
  const { spellStart, spellScene, scenes } = record;
  const { masks, words } = scenes;
  const houses = record.scenario.houses.length;
  const darkSince = new Float64Array(houses);
  for (const { first, end, from, until } of record.openings) {
    darkSince.fill(from);
    for (let i = first + 1; i < end; i++) {
      const start = spellStart[i]!;
      const before = spellScene[i - 1]! * words;
      const after = spellScene[i]! * words;
      for (let w = 0; w < words; w++) {
        const was = masks[before + w]!;
        const is = masks[after + w]!;
        for (let dark = was & ~is; dark !== 0; dark &= dark - 1) darkSince[32 * w + lowestBit(dark)] = start;
        for (let lit = is & ~was; lit !== 0; lit &= lit - 1) {
          const house = 32 * w + lowestBit(lit);
          visit(house, darkSince[house]!, start);
        }
      }
    }
    for (let house = 0; house < houses; house++) {
      if (!scenes.isLit(spellScene[end - 1]!, house)) visit(house, darkSince[house]!, until);
    }
  }
}

/** The longest time for which any house stays dark, in microseconds; 0 where none ever is. */
export function longestDark(record: SceneRecord): number {
  return longestDarkSpell(record)?.length ?? 0;
}

/** The longest dark spell of any house, the one that begins first where several are as long; null where none is dark. */
export function longestDarkSpell(record: SceneRecord): DarkSpell | null {
  let longest: DarkSpell | null = null as DarkSpell | null;
  eachDarkSpell(record, (house, start, end) => {
    const length = end - start;
    if (longest === null || length > longest.length || (length === longest.length && start < longest.start)) longest = { house, start, length };
  });
  return longest;
}
