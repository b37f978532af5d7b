import type { Candidate } from "./candidate.js";

/** A part's place is found to this share of its tolerance. */
const FINE = 0.001;

type Broken = (candidate: Candidate) => boolean;

/**
 * The plainest candidate that still breaks what `found` breaks: fewest parts off nominal, and those by the least. One
 * part alone is looked for among all parts, two among all pairs; more than two are what is left of `found` when parts
 * go back to nominal one after the other. Assumes that going further never mends what is broken; where it does, the
 * result is still broken, but perhaps not the least.
 */
export function plainest(found: Candidate, broken: Broken): Candidate {
  const needed = dropped(found, broken);
  const off = places(needed);
  if (off.length <= 1) return least(needed, broken);
  const smaller = among(found.length, 1, broken) ?? (off.length > 2 ? among(found.length, 2, broken) : null);
  return smaller ?? least(needed, broken);
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

/** Of all choices of `count` parts at their limits that break it, the one that needs the least; null when none does. */
function among(parts: number, count: 1 | 2, broken: Broken): Candidate | null {
  let best: Candidate | null = null;
  for (const choice of choices(parts, count)) {
    if (!broken(choice)) continue;
    const candidate = least(choice, broken);
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
function least(candidate: Candidate, broken: Broken): Candidate {
  const scaled = (scale: number): Candidate => candidate.map((moved) => moved * scale);
  let left = scaled(smallest((scale) => broken(scaled(scale))));
  if (places(candidate).length === 1) return left;
  for (const i of places(left)) {
    const current = left;
    const reduced = (scale: number): Candidate => current.map((moved, j) => (i === j ? moved * scale : moved));
    left = reduced(smallest((scale) => broken(reduced(scale))));
  }
  return left;
}

/** The smallest scale in (0, 1] for which `breaks` holds, as it does for 1. */
function smallest(breaks: (scale: number) => boolean): number {
  if (breaks(0)) return 0;
  let kept = 0;
  let scale = 1;
  while (scale - kept > FINE / 2) {
    const middle = (kept + scale) / 2;
    if (breaks(middle)) scale = middle;
    else kept = middle;
  }
  return scale;
}

function places(candidate: Candidate): number[] {
  return candidate.flatMap((moved, i) => (moved === 0 ? [] : [i]));
}

function size(candidate: Candidate): number {
  return candidate.reduce((sum, moved) => sum + Math.abs(moved), 0);
}
