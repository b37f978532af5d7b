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

/** Adds up a record, in one pass over its spells; their lengths are listed when they are first asked for. */
export function totals(record: SceneRecord): Totals {
  const sceneTime = new Float64Array(record.scenes.length);
  const { spellStart, spellScene, openings } = record;
  for (const { first, end, until } of openings) {
    let start = spellStart[first]!;
    for (let i = first; i < end; i++) {
      const next = i + 1 < end ? spellStart[i + 1]! : until;
      sceneTime[spellScene[i]!]! += next - start;
      start = next;
    }
  }
  const open = openings.reduce((sum, { from, until }) => sum + (until - from), 0);
  let spells: Float64Array | undefined;
  return {
    open,
    sceneTime,
    get spells() {
      return (spells ??= spellLengths(record));
    },
  };
}

function spellLengths({ openings, spellStart }: SceneRecord): Float64Array {
  const lengths = new Float64Array(spellStart.length);
  for (const { first, end, until } of openings) {
    for (let i = first; i < end; i++) lengths[i] = (i + 1 < end ? spellStart[i + 1]! : until) - spellStart[i]!;
  }
  return lengths;
}
