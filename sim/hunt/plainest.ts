import { bisectedLater } from "../statistics/bisection.js";
import type { Shifts } from "./shifts.js";

type Broken = (shifts: Shifts) => Promise<boolean>;

/**
 * The plainest shifts that still break what `found` breaks: fewest parts off nominal, and those by the least in all.
 * One part alone is looked for among all parts, two among all pairs; more than two are what is left of `found` when
 * parts go back to nominal one after the other. Assumes that going further never mends what is broken; where it does,
 * the result is still broken, but perhaps not the least; so is what is left when `broken` from some moment on always says
 * no, since the work is stopped. Each part's place is found to `fine`, a share of its tolerance.
 */
export async function plainest(found: Shifts, broken: Broken, fine: number): Promise<Shifts> {
  const least = (shifts: Shifts): Promise<Shifts> => drawnBack(shifts, broken, fine);
  const needed = await dropped(found, broken);
  const off = places(needed).length;
  for (const count of [1, 2] as const) {
    if (count > off) break;
    const best = await among(found.length, count, broken, least, count === off ? await least(needed) : null);
    if (best !== null) return best;
  }
  return least(needed);
}

/** Parts go back to nominal where the promise stays broken without them. */
async function dropped(found: Shifts, broken: Broken): Promise<Shifts> {
  let left = found;
  for (const i of places(found)) {
    const without = left.map((moved, j) => (i === j ? 0 : moved));
    if (await broken(without)) left = without;
  }
  return left;
}

/** Of `known` and all choices of `count` parts at their limits, the one that breaks it with the least; null when none does. */
async function among(
  parts: number,
  count: 1 | 2,
  broken: Broken,
  least: (shifts: Shifts) => Promise<Shifts>,
  known: Shifts | null,
): Promise<Shifts | null> {
  let best = known;
  for (const choice of choices(parts, count)) {
    // no need to draw back what does not even break it when it goes as far as the best so far
    const far = best === null ? 1 : size(best) / count;
    if (!(await broken(choice.map((moved) => moved * far)))) continue;
    const shifts = await least(choice);
    if (best === null || size(shifts) < size(best)) best = shifts;
  }
  return best;
}

function* choices(parts: number, count: 1 | 2): Generator<Shifts> {
  const signs = [1, -1];
  for (let i = 0; i < parts; i++) {
    for (const a of signs) {
      if (count === 1) yield at(parts, [[i, a]]);
      else for (let j = i + 1; j < parts; j++) for (const b of signs) yield at(parts, [[i, a], [j, b]]);
    }
  }
}

function at(parts: number, moved: readonly (readonly [number, number])[]): Shifts {
  const shifts = new Array<number>(parts).fill(0);
  for (const [i, to] of moved) shifts[i] = to;
  return shifts;
}

/** The least common step back of all parts, then of each alone, that still breaks it. */
async function drawnBack(shifts: Shifts, broken: Broken, fine: number): Promise<Shifts> {
  const scaled = (scale: number): Shifts => shifts.map((moved) => moved * scale);
  let left = scaled(await smallest((scale) => broken(scaled(scale)), fine));
  if (places(shifts).length === 1) return left;
  for (const i of places(left)) {
    const current = left;
    const reduced = (scale: number): Shifts => current.map((moved, j) => (i === j ? moved * scale : moved));
    left = reduced(await smallest((scale) => broken(reduced(scale)), fine));
  }
  return left;
}

/** The smallest scale in 0 … 1 for which `breaks` holds, as it does for 1. */
async function smallest(breaks: (scale: number) => Promise<boolean>, fine: number): Promise<number> {
  if (await breaks(0)) return 0;
  return (await bisectedLater(async (scale) => !(await breaks(scale)), 0, 1, fine / 2)).next;
}

function places(shifts: Shifts): number[] {
  return shifts.flatMap((moved, i) => (moved === 0 ? [] : [i]));
}

function size(shifts: Shifts): number {
  return shifts.reduce((sum, moved) => sum + Math.abs(moved), 0);
}
