import type { Timeline } from "../figures/timeline.js";
import { HOUR, type Micros } from "../units/time.js";


/**
 * The first 60 min inside one opening that show fewer than `atLeast` different scenes, of those that end with a spell;
 * null where every hour shows as many.
 */
export function firstDullHour(line: Timeline, atLeast: number): { start: Micros; scenes: number } | null {
  const { openings, until, scene } = line;
  for (const { from, first, end } of openings) {
    let begin = first;
    for (let i = first; i < end; i++) {
      const start = until[i]! - HOUR;
      if (start < from) continue;
      while (until[begin]! <= start) begin++;
      const shown = new Set(scene.subarray(begin, i + 1)).size;
      if (shown < atLeast) return { start, scenes: shown };
    }
  }
  return null;
}
