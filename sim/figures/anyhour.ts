import type { Timeline } from "./timeline.js";
import { HOUR, type Micros } from "../units/time.js";

/** The dullest hour of the run. */
export interface AnyHourFigures {
  /** Fewest different scenes in any 60 min inside one opening; null when the openings are shorter. */
  readonly fewestScenes: number | null;
}


/** Figures of the dullest hour. */
export function anyHourFigures(line: Timeline): AnyHourFigures {
  return { fewestScenes: fewestInAnyHour(line) };
}

/** Fewest different scenes in any 60 min inside one opening; null when the openings are shorter. */
export function fewestInAnyHour(line: Timeline): number | null {
  return fewestScenes(line, HOUR);
}

/**
 * Fewest different scenes in any stretch of `length` microseconds inside one opening; a spell counts when some of it
 * lies inside, not when it only touches an end. Null when every opening is shorter. Two steps a spell: sliding a
 * stretch on until the next spell begins, or closing comes, adds no scene, so it is enough to look at the stretches
 * that end with a spell.
 */
export function fewestScenes({ openings, until, scene, scenes }: Timeline, length: Micros): number | null {
  let fewest = Infinity;
  const spells = new Int32Array(scenes);
  for (const opening of openings) {
    let distinct = 0;
    let first = opening.first;
    for (let i = opening.first; i < opening.end; i++) {
      if (++spells[scene[i]!]! === 1) distinct++;
      const begin = until[i]! - length;
      if (begin < opening.from) continue;
      for (; until[first]! <= begin; first++) if (--spells[scene[first]!]! === 0) distinct--;
      fewest = Math.min(fewest, distinct);
    }
    for (; first < opening.end; first++) spells[scene[first]!]!--;
  }
  return fewest === Infinity ? null : fewest;
}
