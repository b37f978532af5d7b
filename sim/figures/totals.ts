import type { SceneRecord } from "../engine/record.js";

/** Sums over a record from which most figures follow. Microseconds, exact. */
export interface Totals {
  /** Open time in all. */
  readonly open: number;
  /** Open time for which each scene was shown. */
  readonly sceneTime: Float64Array;
  /** Length of every spell, in order. */
  readonly spells: Float64Array;
}

/** Adds up a record, in one pass over its spells. */
export function totals(record: SceneRecord): Totals {
  const sceneTime = new Float64Array(record.scenes.length);
  const spells = new Float64Array(record.spellStart.length);
  const { spellStart, spellScene, openings } = record;
  for (const { first, end, until } of openings) {
    let start = spellStart[first]!;
    for (let i = first; i < end; i++) {
      const next = i + 1 < end ? spellStart[i + 1]! : until;
      sceneTime[spellScene[i]!]! += next - start;
      spells[i] = next - start;
      start = next;
    }
  }
  const open = openings.reduce((sum, { from, until }) => sum + (until - from), 0);
  return { open, sceneTime, spells };
}
