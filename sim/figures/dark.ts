import type { SceneRecord } from "../engine/record.js";
import { toSeconds } from "../units/time.js";

/** A stretch of open time for which one house was dark; microseconds of the calendar. */
export interface DarkSpell {
  readonly house: number;
  readonly start: number;
  readonly length: number;
}

/** Calls `visit` for every dark spell of every house, cut at opening and closing, in order of the spells' ends. */
function eachDarkSpell(record: SceneRecord, visit: (house: number, start: number, end: number) => void): void {
  const { spellStart, spellScene, scenes } = record;
  /** Until when each house was last seen lit. */
  const litUntil = new Float64Array(record.scenario.houses.length);
  for (const opening of record.openings) {
    litUntil.fill(opening.from);
    for (let i = opening.first; i < opening.end; i++) {
      const start = spellStart[i]!;
      const end = i + 1 < opening.end ? spellStart[i + 1]! : opening.until;
      for (const house of scenes[spellScene[i]!]!) {
        if (litUntil[house]! < start) visit(house, litUntil[house]!, start);
        litUntil[house] = end;
      }
    }
    for (let house = 0; house < litUntil.length; house++) {
      if (litUntil[house]! < opening.until) visit(house, litUntil[house]!, opening.until);
    }
  }
}

/** The longest time for which any house stays dark, in microseconds; 0 where none ever is. */
export function longestDark(record: SceneRecord): number {
  let longest = 0;
  eachDarkSpell(record, (_house, start, end) => {
    if (end - start > longest) longest = end - start;
  });
  return longest;
}

/** Of the dark spells that last longer than `seconds`, the one that begins first; null where none does. */
export function firstDarkBeyond(record: SceneRecord, seconds: number): DarkSpell | null {
  let first: DarkSpell | null = null;
  eachDarkSpell(record, (house, start, end) => {
    if (toSeconds(end - start) <= seconds) return;
    if (first === null || start < first.start) first = { house, start, length: end - start };
  });
  return first;
}
