import { percent } from "../../sim/units/text.js";
import { DUSK, INK, LIT, NIGHT, QUIET } from "./colours.js";
import { decimal, Drawing } from "./drawing.js";
import { houseOutlines } from "./house.js";
import { HOUSE_SIZE, type Plan } from "./plan.js";
import type { Spot } from "./spots.js";

const WIDTH = 240;
const CAPTION = 44;
const LEAST_SIZE = 7;
const LEAST_HEIGHT = 60;
/** From the middle of a house to the edge of the panel. */
const MARGIN = 16;
const LARGEST_SCALE = 0.5;

export interface StillFacts {
  /** From 1, the most shown scene first. */
  readonly rank: number;
  /** Houses lit, by number in the scenario. */
  readonly lit: readonly number[];
  /** Number of all houses. */
  readonly houses: number;
  readonly share: number;
}

/** Scales the spots to the width of the panel and centres them; a few houses do not grow beyond half their size. */
function fitInto(spots: readonly Spot[]): { scale: number; left: number; top: number; height: number } {
  const xs = spots.map(({ x }) => x);
  const ys = spots.map(({ y }) => y);
  const across = Math.max(...xs) - Math.min(...xs);
  const down = Math.max(...ys) - Math.min(...ys);
  const scale = Math.min(LARGEST_SCALE, (WIDTH - 2 * MARGIN) / Math.max(1, across));
  const height = Math.max(LEAST_HEIGHT, down * scale + 2 * MARGIN);
  return {
    scale,
    left: (WIDTH - across * scale) / 2 - Math.min(...xs) * scale,
    top: (height - down * scale) / 2 - Math.min(...ys) * scale,
    height,
  };
}

/** One scene as it looks in the evening: lit houses full and bright, dark ones as outlines, with its share of the time. */
export function drawStill(document: Document, plan: Plan, { rank, lit, houses, share }: StillFacts): SVGSVGElement {
  const { scale, left, top, height } = fitInto(plan.spots);
  const size = Math.max(LEAST_SIZE, HOUSE_SIZE * scale * 1.25);
  const title = `Scene ${rank}: ${percent(share)} of the open time`;
  const drawing = new Drawing(document, {
    id: `scene-${rank}`,
    width: WIDTH,
    height: height + CAPTION,
    title,
    description: `${lit.length} of ${houses} houses are lit in this scene`,
  });
  drawing.add("rect", { width: WIDTH, height: decimal(height), rx: 4, fill: NIGHT });
  const spots = plan.spots.map(({ x, y }): Spot => ({ x: left + x * scale, y: top + y * scale }));
  const isLit = new Set(lit);
  drawing.path(houseOutlines(spots.filter((_, house) => !isLit.has(house)), size * 0.8), { fill: "none", stroke: DUSK });
  drawing.path(houseOutlines(spots.filter((_, house) => isLit.has(house)), size), { fill: LIT });
  drawing.text(0, height + 17, percent(share), { bold: true, size: 14, fill: INK });
  drawing.text(WIDTH, height + 17, "of the open time", { anchor: "end", fill: QUIET });
  drawing.text(0, height + 35, lit.length === 0 ? "nothing lit" : `${lit.length} of ${houses} lit`, { fill: QUIET });
  return drawing.svg;
}
