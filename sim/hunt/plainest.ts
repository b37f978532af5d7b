import { bisected } from "../statistics/bisection.js";
import type { Candidate } from "./shifts.js";

type Broken = (candidate: Candidate) => boolean;

/**
 * The plainest candidate that still breaks what `found` breaks: fewest parts off nominal, and those by the least in all.
 * One part alone is looked for among all parts, two among all pairs; more than two are what is left of `found` when
 * parts go back to nominal one after the other. Assumes that going further never mends what is broken; where it does,
 * the result is still broken, but perhaps not the least. Each part's place is found to `fine`, a share of its tolerance.
 */
export function plainest(found: Candidate, broken: Broken, fine: number): Candidate {
  const least = (candidate: Candidate): Candidate => drawnBack(candidate, broken, fine);
  const needed = dropped(found, broken);
  const off = places(needed).length;
  for (const count of [1, 2] as const) {
    if (count > off) break;
    const best = among(found.length, count, broken, least, count === off ? least(needed) : null);
    if (best !== null) return best;
  }
  return least(needed);
}

/** Parts go back to nominal where the promise stays broken without them. */
function dropped(found: Candidate, broken: Broken): Candidate {
  let left = found;
  for (const i of places(found)) {
    const without = left.map((moved, j) => (i === j ? 0 : moved));
    if (broken(without)) left = without;
  }
  return left;
}

/** Of `known` and all choices of `count` parts at their limits, the one that breaks it with the least; null when none does. */
function among(
  parts: number,
  count: 1 | 2,
  broken: Broken,
  least: (candidate: Candidate) => Candidate,
  known: Candidate | null,
): Candidate | null {
  let best = known;
  for (const choice of choices(parts, count)) {
    // no need to draw back what does not even break it when it goes as far as the best so far
    const far = best === null ? 1 : size(best) / count;
    if (!broken(choice.map((moved) => moved * far))) continue;
    const candidate = least(choice);
    if (best === null || size(candidate) < size(best)) best = candidate;
  }
  return best;
}

function* choices(parts: number, count: 1 | 2): Generator<Candidate> {
  const signs = [1, -1];
  for (let i = 0; i < parts; i++) {
    for (const a of signs) {
      if (count === 1) yield at(parts, [[i, a]]);
      else for (let j = i + 1; j < parts; j++) for (const b of signs) yield at(parts, [[i, a], [j, b]]);
    }
  }
}

function at(parts: number, moved: readonly (readonly [number, number])[]): Candidate {
  const candidate = new Array<number>(parts).fill(0);
  for (const [i, to] of moved) candidate[i] = to;
  return candidate;
}

/** The least common step back of all parts, then of each alone, that still breaks it. */
function drawnBack(candidate: Candidate, broken: Broken, fine: number): Candidate {
  const scaled = (scale: number): Candidate => candidate.map((moved) => moved * scale);
  let left = scaled(smallest((scale) => broken(scaled(scale)), fine));
  if (places(candidate).length === 1) return left;
  for (const i of places(left)) {
    const current = left;
    const reduced = (scale: number): Candidate => current.map((moved, j) => (i === j ? moved * scale : moved));
    left = reduced(smallest((scale) => broken(reduced(scale)), fine));
  }
  return left;
}

/** The smallest scale in 0 … 1 for which `breaks` holds, as it does for 1. */
function smallest(breaks: (scale: number) => boolean, fine: number): number {
  if (breaks(0)) return 0;
  return bisected((scale) => !breaks(scale), 0, 1, fine / 2).next;
}

function places(candidate: Candidate): number[] {
  return candidate.flatMap((moved, i) => (moved === 0 ? [] : [i]));
}

function size(candidate: Candidate): number {
  return candidate.reduce((sum, moved) => sum + Math.abs(moved), 0);
}
