import type { SceneRecord } from "../engine/record.js";
import { type Micros, type Seconds, toSeconds } from "../units/time.js";

/** A stretch of open time for which one house was dark; microseconds of the calendar. */
export interface DarkSpell {
  readonly house: number;
  readonly start: Micros;
  readonly length: Micros;
}

/** Calls `visit` for every dark spell of every house, cut at opening and closing, in order of the spells' ends. */
function eachDarkSpell(record: SceneRecord, visit: (house: number, start: Micros, end: Micros) => void): void {
  const { spellStart, spellScene, scenes } = record;
  const houses = record.scenario.houses.length;
  const darkSince = new Float64Array(houses);
  const changed = new Int32Array(houses);
  for (const opening of record.openings) {
    // Of a house that is lit, Infinity
    for (let house = 0; house < houses; house++) {
      darkSince[house] = scenes.isLit(spellScene[opening.first]!, house) ? Infinity : opening.from;
    }
    for (let i = opening.first + 1; i < opening.end; i++) {
      const start = spellStart[i]!;
      const count = scenes.changed(spellScene[i - 1]!, spellScene[i]!, changed);
      for (let c = 0; c < count; c++) {
        const house = changed[c]!;
        if (darkSince[house] === Infinity) {
          darkSince[house] = start;
        } else {
          visit(house, darkSince[house]!, start);
          darkSince[house] = Infinity;
        }
      }
    }
    for (let house = 0; house < houses; house++) {
      if (darkSince[house] !== Infinity) visit(house, darkSince[house]!, opening.until);
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
export function firstDarkBeyond(record: SceneRecord, seconds: Seconds): DarkSpell | null {
  let first: DarkSpell | null = null;
  eachDarkSpell(record, (house, start, end) => {
    if (toSeconds(end - start) <= seconds) return;
    if (first === null || start < first.start) first = { house, start, length: end - start };
  });
  return first;
}
