import type { House } from "../../sim/model/scenario.js";

export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** Where things stand in a frame that begins at (0, 0). */
export interface Spots {
  readonly height: number;
  readonly spots: readonly Spot[];
}

export interface Frame {
  readonly width: number;
  /** Greatest height that the places are spread over. */
  readonly height: number;
  /** Clear space at the sides, and above and below. */
  readonly marginX: number;
  readonly marginY: number;
  /** Least distance between two spots, across or down. */
  readonly apart: number;
  /** How many times larger the scale down may be than the one across. */
  readonly taller: number;
}

/**
 * The houses' own places, scaled alike in both directions to fill the frame, or by so much more downwards as the frame allows. Houses that would cover each other are
 * moved to the nearest free spot, which can make the frame longer downwards.
 */
export function ownSpots(places: readonly NonNullable<House["at"]>[], frame: Frame): Spots {
  const { width, marginX, marginY } = frame;
  const xs = places.map(([x]) => x);
  const ys = places.map(([, y]) => y);
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  const [across, down] = [Math.max(...xs) - left, Math.max(...ys) - top];
  const scales = [
    across > 0 ? (width - 2 * marginX) / across : Infinity,
    down > 0 ? (frame.height - 2 * marginY) / down : Infinity,
  ] as const;
  const scale = Math.min(...scales) === Infinity ? 1 : Math.min(...scales);
  const scaleDown = Math.min(scales[1], scale * frame.taller);
  const shiftX = (width - across * scale) / 2;
  const wanted = places.map(([x, y]) => ({ x: shiftX + (x - left) * scale, y: marginY + (y - top) * scaleDown }));
  const spots = spreadOut(wanted, frame);
  const lowest = Math.max(...spots.map(({ y }) => y));
  return { spots, height: lowest + marginY };
}

const ROUNDING = 1e-6;

/** The larger of the distances across and down: houses are drawn as squares, near enough. */
function distance(one: Spot, other: Spot): number {
  return Math.max(Math.abs(one.x - other.x), Math.abs(one.y - other.y));
}

/** Moves spots apart, one after the other: each takes the free place nearest to where it would be. */
function spreadOut(wanted: readonly Spot[], { width, marginX, marginY, apart }: Frame): Spot[] {
  const taken: Spot[] = [];
  const isInFrame = ({ x, y }: Spot): boolean => x >= marginX - ROUNDING && x <= width - marginX + ROUNDING && y >= marginY - ROUNDING;
  const isFree = (spot: Spot): boolean => isInFrame(spot) && taken.every((other) => distance(spot, other) >= apart - ROUNDING);
  for (const spot of wanted) {
    let free: Spot | undefined;
    for (let ring = 0; free === undefined; ring++) free = ringAround(spot, ring, apart / 2).find(isFree);
    taken.push(free);
  }
  return taken;
}

/** The places of a square ring of a grid around a spot, nearest first. */
function ringAround({ x, y }: Spot, ring: number, mesh: number): Spot[] {
  const offsets: [number, number][] = [];
  for (let i = -ring; i <= ring; i++) {
    for (let j = -ring; j <= ring; j++) {
      if (Math.max(Math.abs(i), Math.abs(j)) === ring) offsets.push([i, j]);
    }
  }
  offsets.sort(([i, j], [k, l]) => i * i + j * j - (k * k + l * l));
  return offsets.map(([i, j]) => ({ x: x + i * mesh, y: y + j * mesh }));
}
