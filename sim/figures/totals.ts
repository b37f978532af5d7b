import { eachSpell, type SceneRecord } from "../engine/record.js";

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
  let i = 0;
  eachSpell(record, (scene, start, end) => {
    sceneTime[scene] = sceneTime[scene]! + (end - start);
    spells[i++] = end - start;
  });
  const open = record.openings.reduce((sum, { from, until }) => sum + (until - from), 0);
  return { open, sceneTime, spells };
}
