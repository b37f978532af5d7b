import type { House } from "../../sim/model/scenario.js";
import { bars, decimal, Drawing } from "./drawing.js";
import { DRAWN_LIMIT } from "./groups.js";
import { DUSK, DUSK_SHARE, PHOTO_ID, type Photo } from "./photo.js";
import { fitted, layOnPhoto, layOut, type Building, type Hill, type Scenery } from "./scenery.js";
import { skyAt } from "./sky.js";
import type { Micros } from "../../sim/units/time.js";

const WIDTH = 260;
const HEIGHT = 168;
/** A picture higher than this share of its width leaves room at its sides. */
const HIGHEST = 1.4;
/** More lights than this are drawn without their glow. */
const GLOWING = 60;

/** Hills from the farthest to the nearest, and the dark walls of the houses on them. */
const HILLS = ["#34465f", "#26364d", "#1b293c", "#121d2c", "#0c1520"];
const WALL = "#1c2739";
const WALL_LIT = "#7a5a3a";
const ROOF = "#0f1622";
const PANE = "#3b4d68";
const PANE_LIT = "#ffe09a";

export interface StillFacts {
  /** Beginning of the ids in it. */
  readonly id: string;
  /** What it is, in a few words. */
  readonly title: string;
  /** Houses lit, by number in the scenario. */
  readonly lit: readonly number[];
  /** Time of day for the sky. */
  readonly time: Micros;
}

/** What the stills of a display are drawn on: hills, or a picture of it. */
export interface StillGround {
  readonly scenery: Scenery;
  readonly photo: Photo | null;
}

/** Where everything stands in the stills of a display. */
export function stillGround(houses: readonly House[], photo: Photo | null): StillGround {
  const drawn = houses.slice(0, DRAWN_LIMIT);
  if (photo === null) return { scenery: layOut(drawn, WIDTH, HEIGHT), photo };
  const height = Math.round(WIDTH * Math.min(HIGHEST, photo.height / photo.width));
  return { scenery: layOnPhoto(drawn, photo, WIDTH, height), photo };
}

/** One scene as it looks in the evening: lit windows bright in dark houses. */
export function drawStill(document: Document, { scenery, photo }: StillGround, { id, title, lit, time }: StillFacts): SVGSVGElement {
  const { hills, buildings, height } = scenery;
  const drawing = new Drawing(document, {
    id,
    width: WIDTH,
    height,
    title,
    description: `${lit.length} houses are lit in this picture`,
  });
  const light = drawing.add("radialGradient", { id: `${id}-light` });
  stops(document, light, [[0, "#ffd682", 0.75], [0.4, "#ffa85a", 0.22], [1, "#ff8c3c", 0]]);
  if (photo !== null) {
    drawOnPhoto(drawing, photo, scenery, new Set(lit), `url(#${id}-light)`);
    return drawing.svg;
  }
  const { zenith, horizon } = skyAt(time);
  const sky = drawing.add("linearGradient", { id: `${id}-sky`, x2: 0, y2: 1 });
  stops(document, sky, [[0, zenith, 1], [0.6, horizon, 1]]);
  drawing.add("rect", { width: WIDTH, height: HEIGHT, fill: `url(#${id}-sky)` });
  const isLit = new Set(lit);
  const glowing = lit.length <= GLOWING;
  hills.forEach((hill, i) => {
    drawing.path(hillside(hill), { fill: HILLS[Math.min(HILLS.length - 1, Math.round(((i + 1) / hills.length) * (HILLS.length - 1)))]! });
    const on = hill.houses.filter((house) => isLit.has(house)).map((house) => buildings[house]!);
    const off = hill.houses.filter((house) => !isLit.has(house)).map((house) => buildings[house]!);
    drawing.path(off.map(walls).join(""), { fill: WALL });
    drawing.path(on.map(walls).join(""), { fill: WALL_LIT });
    drawing.path([...off, ...on].map(roof).join(""), { fill: ROOF });
    drawing.path(off.map(panes).join(""), { fill: PANE });
    if (glowing) {
      for (const { x, y, width, wall } of on) {
        drawing.add("circle", { cx: x, cy: y - wall / 2, r: width + wall, fill: `url(#${id}-light)` });
      }
    }
    drawing.path(on.map(panes).join(""), { fill: PANE_LIT });
  });
  return drawing.svg;
}

/** The display's own picture in the dusk, with a light where a house is lit. */
function drawOnPhoto(drawing: Drawing, photo: Photo, { width, height, buildings }: Scenery, lit: ReadonlySet<number>, light: string): void {
  const { left, top, scale } = fitted(photo, width, height);
  drawing.add("rect", { width, height, fill: DUSK });
  drawing.add("use", { href: `#${PHOTO_ID}`, transform: `translate(${decimal(left)} ${decimal(top)}) scale(${scale.toPrecision(6)})` });
  drawing.add("rect", { width, height, fill: DUSK, "fill-opacity": DUSK_SHARE });
  buildings.forEach(({ x, y, width: size }, house) => {
    if (lit.has(house)) {
      drawing.add("circle", { cx: decimal(x), cy: decimal(y), r: decimal(size * 2.4), fill: light });
      drawing.add("circle", { cx: decimal(x), cy: decimal(y), r: decimal(size * 0.3), fill: PANE_LIT });
    } else drawing.add("circle", { cx: decimal(x), cy: decimal(y), r: decimal(size * 0.25), fill: "none", stroke: "#d6e0f0", "stroke-opacity": 0.6 });
  });
}

function stops(document: Document, gradient: SVGElement, at: readonly (readonly [offset: number, colour: string, opacity: number])[]): void {
  for (const [offset, colour, opacity] of at) {
    const stop = document.createElementNS(gradient.namespaceURI, "stop");
    stop.setAttribute("offset", String(offset));
    stop.setAttribute("stop-color", colour);
    if (opacity < 1) stop.setAttribute("stop-opacity", String(opacity));
    gradient.appendChild(stop);
  }
}

function hillside({ ridge }: Hill): string {
  const inside = ridge.map(([x, y]) => [decimal(Math.min(WIDTH, Math.max(0, x))), decimal(y)] as const);
  return `M0 ${HEIGHT}V${inside[0]![1]}${inside.map(([x, y]) => `L${x} ${y}`).join("")}V${HEIGHT}z`;
}

function walls({ x, y, width, wall, roof: high }: Building): string {
  return `M${decimal(x - width / 2)} ${decimal(y)}v${decimal(-wall)}L${decimal(x)} ` +
    `${decimal(y - wall - high)}L${decimal(x + width / 2)} ${decimal(y - wall)}V${decimal(y)}z`;
}

function roof({ x, y, width, wall, roof: high }: Building): string {
  const [left, right, eaves] = [decimal(x - width * 0.56), decimal(x + width * 0.56), decimal(y - wall)];
  return `M${left} ${eaves}L${decimal(x)} ${decimal(y - wall - high)}L${right} ${eaves}L${decimal(x)} ${decimal(y - wall - high * 0.7)}z`;
}

function panes({ windows }: Building): string {
  return bars(windows.map(([x, y, width, height]) => ({ x, y, width, height })));
}
