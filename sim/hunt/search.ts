import fc from "fast-check";
import { Queue, type Crew } from "../crew/crew.js";
import { RunTooLongError } from "../engine/limits.js";
import { arbitraryShifts } from "./arbitrary.js";
import type { Look, Seen } from "./look.js";
import type { ShiftableParts, Shifts } from "./shifts.js";

/** The first build that breaks a promise. */
interface FirstBreak {
  readonly shifts: Shifts;
  /** Number of the build, from 1. */
  readonly after: number;
}

interface Searching {
  readonly tries: number;
  /** Builds to look at before any is drawn. */
  readonly first: readonly Shifts[];
  readonly seed: number;
  readonly progress: ((done: number, total: number) => void) | undefined;
}

/** Builds that are asked for together. */
const AT_ONCE = 5;

/**
 * Goes through builds (those named first, then parts anywhere in their tolerances) until every promise is broken, all have
 * been looked at, or the work is stopped. Whoever is first, the first in the order in which they are drawn counts.
 */
export async function search(
  crew: Crew<Look, readonly Seen[]>,
  promises: number,
  shiftable: ShiftableParts,
  { tries, first, seed, progress }: Searching,
): Promise<{ looked: number; breaks: readonly (FirstBreak | undefined)[] }> {
  const breaks = new Array<FirstBreak | undefined>(promises).fill(undefined);
  const open = new Set(breaks.keys());
  let tooLong: { readonly after: number; readonly error: RunTooLongError } | undefined;
  let drawn = 0;
  let looked = 0;
  let stopped = false;
  const look = async (builds: readonly Shifts[], before: number): Promise<void> => {
    const seen = await crew.ask({ builds, promises: [...open] });
    if (seen === undefined) stopped = true;
    seen?.forEach((one, i) => {
      const after = before + i + 1;
      if ("tooLong" in one) {
        if (tooLong === undefined || after < tooLong.after) tooLong = { after, error: new RunTooLongError(one.tooLong) };
      } else {
        for (const p of one.broken) {
          if (after < (breaks[p]?.after ?? Infinity)) breaks[p] = { shifts: builds[i]!, after };
          open.delete(p);
        }
      }
      looked++;
      progress?.(looked, tries);
    });
  };
  const queue = new Queue(crew.size);
  let next: Shifts[] = [];
  const goesOn = async (shifts: Shifts): Promise<boolean> => {
    next.push(shifts);
    drawn++;
    if (next.length === AT_ONCE) {
      const builds = next;
      next = [];
      await queue.put(() => look(builds, drawn - builds.length));
    }
    return open.size > 0 && tooLong === undefined && !stopped && !queue.failed;
  };
  await fc.check(fc.asyncProperty(arbitraryShifts(shiftable), goesOn), {
    seed,
    // without a loose part there is one build only
    numRuns: shiftable.parts.length === 0 ? 1 : tries,
    examples: first.map((one): [Shifts] => [one]),
    // limits have been tried by then, and even draws say how rare a build would be that none of them found
    unbiased: true,
    endOnFailure: true,
  });
  if (next.length > 0) await queue.put(() => look(next, drawn - next.length));
  await queue.end();
  // where the promises cannot be judged, as for a build that is too long to simulate, that is what to tell
  const last = breaks.reduce((latest, found) => Math.max(latest, found?.after ?? Infinity), 0);
  if (tooLong !== undefined && tooLong.after <= last) throw tooLong.error;
  return { looked, breaks };
}
