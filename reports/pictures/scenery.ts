import type { House } from "../../sim/model/scenario.js";
import { ownSpots } from "./spots.js";

/** A house in the night picture: its foot at (x, y), pixels. */
export interface Building {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  /** From foot to eaves, and from eaves to ridge. */
  readonly wall: number;
  readonly roof: number;
  readonly chimney: boolean;
  /** Windows: left, top, width, height. */
  readonly windows: readonly (readonly [number, number, number, number])[];
  /** Number from 0 to 1 that tells one house's looks from another's. */
  readonly grain: number;
}

/** A hill, from left to right, the farthest first; its houses stand on it. */
export interface Hill {
  readonly ridge: readonly (readonly [x: number, y: number])[];
  readonly houses: readonly number[];
}

export interface Scenery {
  readonly width: number;
  readonly height: number;
  readonly buildings: readonly Building[];
  readonly hills: readonly Hill[];
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/** Houses without a place that stand in one row. */
const ROW = 12;
/** How much the places may be drawn out downwards: a display is looked at from above and in front. */
const STRETCH = 2.2;
const SKY = 0.3;

/** Lays houses out as a village on hills, in a picture of this size. */
export function layOut(houses: readonly House[], width: number, height: number): Scenery {
  const apart = Math.max(7, Math.min(68, 0.62 * Math.sqrt((width * height * (1 - SKY)) / houses.length), width / 9));
  const marginX = apart * 0.9 + 6;
  const ground = height * (1 - SKY);
  const free = ground - 1.9 * apart;
  const { spots, height: deep } = ownSpots(placesOf(houses), { width, height: free, marginX, marginY: 0, apart: apart * 0.8, taller: STRETCH });
  const squeeze = Math.min(1, free / Math.max(1, deep));
  const top = height * SKY + 1.25 * apart + Math.max(0, (free - deep) * 0.55);
  const buildings = houses.map(({ id }, i) => {
    const y = top + spots[i]!.y * squeeze;
    const near = 0.78 + 0.36 * ((y - height * SKY) / ground);
    return building(spots[i]!.x, y, apart * 0.74 * near, grainOf(id));
  });
  return { width, height, buildings, hills: hillsUnder(buildings, width, height) };
}

/**
 * Lays houses out on a picture of the display, in whose pixels their places are; it fills the frame as far as it fits.
 * Houses without a place stand in a row at its lower edge.
 */
export function layOnPhoto(houses: readonly House[], photo: Size, width: number, height: number): Scenery {
  const { left, top, scale } = fitted(photo, width, height);
  const size = Math.max(7, Math.min(22, width / 40));
  const without = houses.flatMap(({ at }, i) => (at === null ? [i] : []));
  const buildings = houses.map(({ at, id }, i) => {
    const [x, y] = at ?? [((without.indexOf(i) + 0.5) / without.length) * photo.width, photo.height * 0.95];
    const place = { x: left + x * scale, y: top + y * scale };
    return { ...place, width: size, wall: size / 2, roof: size / 2, chimney: false, windows: [], grain: grainOf(id) };
  });
  return { width, height, buildings, hills: [] };
}

/** How large the pixels of a picture are drawn that fills a frame as far as it fits, and where its corner is. */
export function fitted(photo: Size, width: number, height: number): { readonly scale: number; readonly left: number; readonly top: number } {
  const scale = Math.min(width / photo.width, height / photo.height);
  return { scale, left: (width - photo.width * scale) / 2, top: (height - photo.height * scale) / 2 };
}

/** Height of a village of which no house has a place, as a share of its width. */
const LANDSCAPE = 0.4;

/** Places of houses, those without one in rows of their zone below the others. */
function placesOf(houses: readonly House[]): [number, number][] {
  const own = houses.flatMap(({ at }) => (at === null ? [] : [at]));
  const left = Math.min(0, ...own.map(([x]) => x));
  const across = own.length > 1 ? extent(own.map(([x]) => x)) || 100 : 100;
  const rows = new Map<string | null, number[]>();
  houses.forEach(({ at, zone }, i) => {
    if (at === null) rows.set(zone, [...(rows.get(zone) ?? []), i]);
  });
  const places: [number, number][] = houses.map(({ at }) => (at === null ? [0, 0] : [at[0], at[1]]));
  const count = [...rows.values()].reduce((sum, { length }) => sum + Math.ceil(length / ROW), 0);
  // by themselves they fill a landscape
  const rowHeight = own.length > 0 ? across / 6 : Math.min(across / 6, (across * LANDSCAPE) / count);
  let bottom = own.length === 0 ? 0 : Math.max(...own.map(([, y]) => y)) + rowHeight;
  for (const members of rows.values()) {
    const perRow = Math.ceil(members.length / Math.ceil(members.length / ROW));
    members.forEach((house, k) => {
      const row = Math.floor(k / perRow);
      const inRow = Math.min(perRow, members.length - row * perRow);
      const sway = (grainOf(houses[house]!.id) - 0.5) * rowHeight * 0.25;
      places[house] = [left + (((k % perRow) + 0.5 + 0.18 * (row % 2)) / inRow) * across, bottom + row * rowHeight + sway];
    });
    bottom += Math.ceil(members.length / perRow) * rowHeight;
  }
  return places;
}

function building(x: number, y: number, size: number, grain: number): Building {
  const kind = Math.floor(grain * 5);
  const width = size * [0.98, 0.82, 1.16, 0.62, 0.9][kind]!;
  const wall = size * [0.55, 0.62, 0.46, 0.92, 0.5][kind]!;
  const roof = size * [0.42, 0.5, 0.34, 0.4, 0.5][kind]!;
  const columns = Math.max(1, Math.round(width / (size * 0.36)));
  const rows = wall > size * 0.8 ? 2 : 1;
  const windows: [number, number, number, number][] = [];
  const [w, h] = [width / (columns * 1.9), Math.min(wall / (rows * 1.9), size * 0.26)];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      windows.push([x - width / 2 + ((column + 0.5) / columns) * width - w / 2, y - wall + ((row + 0.5) / rows) * wall - h / 2, w, h]);
    }
  }
  return { x, y, width, wall, roof, chimney: kind !== 3, windows, grain };
}

/** What a hill is to know of a house on it. */
type Standing = Pick<Building, "x" | "y" | "wall">;

/** Hills, where there are gaps between the houses from back to front. */
export function hillsUnder(buildings: readonly Standing[], width: number, height: number): Hill[] {
  const order = buildings.map((_, i) => i).sort((a, b) => buildings[a]!.y - buildings[b]!.y);
  const gaps = order
    .slice(1)
    .map((house, i) => ({ at: i + 1, gap: buildings[house]!.y - buildings[order[i]!]!.y }))
    .filter(({ gap }) => gap > height * 0.035)
    .sort((a, b) => b.gap - a.gap)
    .slice(0, 4)
    .map(({ at }) => at)
    .sort((a, b) => a - b);
  return [0, ...gaps].map((from, i) => {
    const houses = order.slice(from, gaps[i] ?? order.length);
    return { houses, ridge: ridgeOver(houses.map((house) => buildings[house]!), width, i) };
  });
}

const PARTS = 10;

function ridgeOver(buildings: readonly Standing[], width: number, number: number): [number, number][] {
  const middle = buildings.reduce((sum, { y }) => sum + y, 0) / buildings.length;
  const points: [number, number][] = [];
  for (let part = -1; part <= PARTS; part++) {
    const x = ((part + 0.5) / PARTS) * width;
    const near = buildings.filter((one) => Math.abs(one.x - x) < width / PARTS);
    const roll = Math.sin(part * 1.7 + number * 2.1) * width * 0.006;
    points.push([x, near.length === 0 ? middle + roll : Math.min(...near.map((one) => one.y - one.wall * 0.45)) + roll * 0.3]);
  }
  return points;
}

function extent(values: readonly number[]): number {
  return Math.max(...values) - Math.min(...values);
}

/** A number from 0 to 1 that stays the same for an id. */
export function grainOf(id: string): number {
  let hash = 2166136261;
  for (const sign of id) hash = Math.imul(hash ^ sign.codePointAt(0)!, 16777619);
  // the last signs of the id move all bits, too
  hash = Math.imul(hash ^ (hash >>> 15), 2246822507);
  hash = Math.imul(hash ^ (hash >>> 13), 3266489909);
  return ((hash ^ (hash >>> 16)) >>> 0) / 2 ** 32;
}
