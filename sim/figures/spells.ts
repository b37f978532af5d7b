import type { SceneRecord } from "../engine/record.js";
import type { Micros } from "../units/time.js";

/** The extremes of the spells as the promise `sceneLasts` looks at them, in microseconds. */
export interface SpellRange {
  /** Of the spells that were not cut short by closing; null where there is none. */
  readonly shortestWhole: number | null;
  /** Of all spells. */
  readonly longest: number;
}

/** The shortest and the longest spell. The last spell of an opening counts as cut short by closing. */
export function spellRange({ spellStart, openings }: SceneRecord): SpellRange {
  let shortestWhole = Infinity;
  let longest = 0;
  for (const { first, end, until } of openings) {
    let start = spellStart[first]!;
    for (let i = first + 1; i < end; i++) {
      const length = spellStart[i]! - start;
      start = spellStart[i]!;
      if (length < shortestWhole) shortestWhole = length;
      if (length > longest) longest = length;
    }
    longest = Math.max(longest, until - start);
  }
  return { shortestWhole: Number.isFinite(shortestWhole) ? shortestWhole : null, longest };
}

/** The first spell with a length that `breaks`; null where there is none. */
export function firstSpell(
  { spellStart, spellScene, openings }: SceneRecord,
  breaks: (length: Micros, cut: boolean) => boolean,
): { start: Micros; length: Micros; scene: number } | null {
  for (const { first, end, until } of openings) {
    for (let i = first; i < end; i++) {
      const cut = i + 1 === end;
      const start = spellStart[i]!;
      const length = (cut ? until : spellStart[i + 1]!) - start;
      if (breaks(length, cut)) return { start, length, scene: spellScene[i]! };
    }
  }
  return null;
}
