import type { House } from "../model/scenario.js";
import type { LitSteps } from "./positions.js";
import type { JointTimeline } from "./timeline.js";

/** A house and the one nearest to it. */
export type Neighbours = readonly [number, number];

/** Every house with a place, and the one nearest to it; each pair once. */
export function neighboursOf(houses: readonly House[]): Neighbours[] {
  const pairs = new Map<string, Neighbours>();
  houses.forEach(({ at }, house) => {
    let nearest = -1;
    let least = Infinity;
    houses.forEach((other, h) => {
      const d = h === house ? null : distance(at, other.at);
      if (d !== null && d < least) [nearest, least] = [h, d];
    });
    if (nearest < 0) return;
    const pair: Neighbours = house < nearest ? [house, nearest] : [nearest, house];
    pairs.set(pair.join(), pair);
  });
  return [...pairs.values()];
}

/** Straight distance of two places; null where one has none. */
export function distance(a: readonly [number, number] | null, b: readonly [number, number] | null): number | null {
  return a === null || b === null ? null : Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** How far neighbours change together; the mean over all pairs. */
export function changingTogether({ moves }: JointTimeline, neighbours: readonly Neighbours[], lit: readonly (readonly LitSteps[])[]): number {
  if (neighbours.length === 0) return 0;
  let sum = 0;
  for (const [a, b] of neighbours) {
    let either = 0;
    let both = 0;
    for (const { board, from, to, count } of moves) {
      const first = changes(lit[a]!, board, from, to);
      const second = changes(lit[b]!, board, from, to);
      if (first || second) either += count;
      if (first && second) both += count;
    }
    if (either > 0) sum += both / either;
  }
  return sum / neighbours.length;
}

function changes(on: readonly LitSteps[], board: number, from: number, to: number): boolean {
  for (const one of on) if (one.board === board && one.on[from] !== one.on[to]) return true;
  return false;
}
