import type { SceneRecord } from "../engine/record.js";
import type { Micros } from "../units/time.js";

/** The extremes of the spells as the promise `sceneLasts` looks at them, in microseconds. */
export interface SpellRange {
  /** Of the spells that were not cut short by closing; null where there is none. */
  readonly shortestWhole: number | null;
  /** Of all spells. */
  readonly longest: number;
}

/** Calls `visit` with the number, start and length of every spell, and whether closing cut it short. */
function eachLength(record: SceneRecord, visit: (spell: number, start: Micros, length: Micros, cut: boolean) => void): void {
  const { spellStart } = record;
  for (const { first, end, until } of record.openings) {
    for (let i = first; i < end; i++) {
      const cut = i + 1 === end;
      visit(i, spellStart[i]!, (cut ? until : spellStart[i + 1]!) - spellStart[i]!, cut);
    }
  }
}

/** The shortest and the longest spell. The last spell of an opening counts as cut short by closing. */
export function spellRange(record: SceneRecord): SpellRange {
  let shortestWhole = Infinity;
  let longest = 0;
  eachLength(record, (_spell, _start, length, cut) => {
    if (!cut && length < shortestWhole) shortestWhole = length;
    if (length > longest) longest = length;
  });
  return { shortestWhole: Number.isFinite(shortestWhole) ? shortestWhole : null, longest };
}

/** The first spell with a length that `breaks`; null where there is none. */
export function firstSpell(
  record: SceneRecord,
  breaks: (length: Micros, cut: boolean) => boolean,
): { start: Micros; length: Micros; scene: number } | null {
  let found: { start: Micros; length: Micros; scene: number } | null = null;
  eachLength(record, (spell, start, length, cut) => {
    if (found === null && breaks(length, cut)) found = { start, length, scene: record.spellScene[spell]! };
  });
  return found;
}
