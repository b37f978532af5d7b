import type { OpeningRecord, SceneRecord } from "../engine/record.js";

/**
 * Spans of time, each with the number of what was shown: in order of time, none overlapping another, gaps allowed.
 * Microseconds.
 */
export interface Spans {
  readonly from: Float64Array;
  readonly until: Float64Array;
  /** Number of the scene, below `scenes`. */
  readonly scene: Int32Array;
  readonly scenes: number;
}

/** The spells of a record as spans; an opening's spells are those numbered first … end − 1, without gaps. */
export interface Timeline extends Spans {
  readonly openings: readonly OpeningRecord[];
}

/** The spells of a record with both their ends. What all figures of repeats and visits work on; worth keeping. */
export function timeline({ openings, spellStart, spellScene, scenes }: SceneRecord): Timeline {
  const until = new Float64Array(spellStart.length);
  until.set(spellStart.subarray(1));
  for (const opening of openings) until[opening.end - 1] = opening.until;
  return { openings, from: spellStart, until, scene: spellScene, scenes: scenes.length };
}

/** The openings alone, as if one scene were shown all the time. */
export function openTimes(openings: readonly OpeningRecord[]): Spans {
  return {
    from: Float64Array.from(openings, ({ from }) => from),
    until: Float64Array.from(openings, ({ until }) => until),
    scene: new Int32Array(openings.length),
    scenes: 1,
  };
}
