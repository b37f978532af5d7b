import { scaleLinear, scaleThreshold } from "d3-scale";
import type { Figures } from "../../sim/figures/index.js";
import { houseNames } from "../../sim/model/housename.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { percent } from "../../sim/units/text.js";
import { DUSK, INK, MOONLIGHT, NIGHT_HILLS, NIGHT_SKY, PAPER, QUIET, shades, STARLIGHT, textOn } from "./colours.js";
import { decimal, Drawing, TEXT_SIZE, titleHeight } from "./drawing.js";
import { houseOutline, houseOutlines } from "./house.js";
import { HOUSE_SIZE, type Plan } from "./plan.js";
import { hillsUnder } from "./scenery.js";
import type { Spot } from "./spots.js";
import { textWidth } from "./text.js";

const LEGEND_HEIGHT = 36;
const LEGEND_LINE = 22;
/** More houses than this have no glow round them. */
const GLOWING = 60;
const TITLE = "How much of the open time each house is lit";

interface Shading {
  /** Ends of the classes: the first class ends at the first of them. */
  readonly ends: readonly number[];
  readonly colours: readonly string[];
  colourOf(share: number): string;
}

/** Equal classes from nothing to the largest share, few enough to tell apart. */
function shading(largest: number): Shading {
  const ends = scaleLinear().domain([0, largest || 1]).nice(5).ticks(5).slice(1);
  const colours = shades(ends.length);
  // a share that is just the end of a class belongs to that class
  const scale = scaleThreshold<number, string>().domain(ends.slice(0, -1).map((end) => end * (1 + 1e-12))).range(colours);
  return { ends, colours, colourOf: (share) => scale(share) };
}

/** The display as it stands, each house shaded by how long it is lit, with a legend. */
export function drawDisplay(document: Document, scenario: Scenario, { houses: found }: Figures, plan: Plan): SVGSVGElement {
  const names = houseNames(scenario);
  const shade = shading(Math.max(...found.map(({ litShare }) => litShare)));
  const never = plan.spots.filter((_, house) => found[house]!.litShare === 0);
  const under = titleHeight(TITLE, plan.width);
  const legend = legendOf(shade, plan.width);
  const drawing = new Drawing(document, {
    id: "display",
    width: plan.width,
    height: under + plan.height + LEGEND_HEIGHT + legend.lines * LEGEND_LINE,
    title: TITLE,
    description: `${plan.spots.length} houses; the lighter, the longer lit. ${never.length} are never lit.`,
  });
  drawing.heading(TITLE);
  const moved = plan.spots.map(({ x, y }) => ({ x, y: y + under }));
  drawNight(drawing, moved, { top: under, height: plan.height, hilly: plan.headings.length === 0 });
  for (const { text, x, y } of plan.headings) drawing.text(x + 12, y + under, text, { bold: true, fill: MOONLIGHT, room: plan.width - 22 });
  if (moved.length <= GLOWING) {
    moved.forEach(({ x, y }, house) => {
      const share = found[house]!.litShare;
      if (share > 0) drawing.add("circle", { cx: x, cy: y, r: HOUSE_SIZE * 1.7, fill: "url(#display-light)", opacity: share, "clip-path": "url(#display-frame)" });
    });
  }
  const outline = { stroke: DUSK, "stroke-width": 1.25, "stroke-linejoin": "round" };
  for (const colour of shade.colours) {
    const spots = moved.filter((_, house) => found[house]!.litShare > 0 && shade.colourOf(found[house]!.litShare) === colour);
    drawing.path(houseOutlines(spots, HOUSE_SIZE), { fill: colour, ...outline });
  }
  const unlit = moved.filter((_, house) => found[house]!.litShare === 0);
  drawing.path(houseOutlines(unlit, HOUSE_SIZE), { fill: "none", ...outline, "stroke-dasharray": "3 2.5" });

  moved.forEach((spot, house) => {
    const share = found[house]!.litShare;
    const label = plan.labels?.[house];
    if (label === undefined) {
      const fill = share === 0 ? MOONLIGHT : textOn(shade.colourOf(share));
      drawing.text(spot.x, spot.y + HOUSE_SIZE / 2 - 4, String(house + 1), { anchor: "middle", fill });
    } else {
      const middle = label.x + label.width / 2;
      drawing.text(middle, label.y + under + 12, names[house]!, { anchor: "middle", fill: MOONLIGHT, room: label.width });
      drawing.text(middle, label.y + under + 26, percent(share), { anchor: "middle", fill: STARLIGHT, figure: `houses[${house}].litShare` });
    }
  });
  drawLegend(drawing, legend, under + plan.height + 8);
  return drawing.svg;
}

/** The evening that the houses stand in: a sky, and hills where they have places of their own. */
function drawNight(drawing: Drawing, spots: readonly Spot[], { top, height, hilly }: { readonly top: number; readonly height: number; readonly hilly: boolean }): void {
  const { width } = drawing;
  const into = (parent: SVGElement, name: string, attributes: Readonly<Record<string, string | number>>): void => {
    parent.appendChild(drawing.add(name, attributes));
  };
  const light = drawing.add("radialGradient", { id: "display-light" });
  for (const [offset, opacity] of [[0, 0.9], [0.45, 0.3], [1, 0]] as const) into(light, "stop", { offset, "stop-color": "#ffb14a", "stop-opacity": opacity });
  const sky = drawing.add("linearGradient", { id: "display-sky", x2: 0, y2: 1 });
  NIGHT_SKY.forEach((colour, offset) => into(sky, "stop", { offset, "stop-color": colour }));
  into(drawing.add("clipPath", { id: "display-frame" }), "rect", { y: top, width, height, rx: 10 });
  drawing.add("rect", { y: top, width, height, rx: 10, fill: "url(#display-sky)" });
  const feet = spots.map(({ x, y }) => ({ x, y: y - top + HOUSE_SIZE / 2, wall: HOUSE_SIZE }));
  const hills = hilly ? hillsUnder(feet, width, height) : [];
  hills.forEach(({ ridge }, i) => {
    const near = Math.round(((i + 1) / hills.length) * (NIGHT_HILLS.length - 1));
    const d = hillside(ridge.map(([x, y]) => [x, y + top] as const), width, top + height);
    drawing.path(d, { fill: NIGHT_HILLS[near]!, "clip-path": "url(#display-frame)" });
  });
}

/** A hill with a round ridge, down to the foot of the picture. */
function hillside(ridge: readonly (readonly [number, number])[], width: number, bottom: number): string {
  const inside = ridge.map(([x, y]) => [Math.min(width, Math.max(0, x)), y] as const);
  const round = inside.slice(1).map(([x, y], i) => {
    const [before, level] = inside[i]!;
    return `Q${decimal(before)} ${decimal(level)} ${decimal((before + x) / 2)} ${decimal((level + y) / 2)}`;
  });
  const foot = decimal(bottom);
  return `M0 ${foot}V${decimal(inside[0]![1])}${round.join("")}L${decimal(width)} ${decimal(inside.at(-1)![1])}V${foot}z`;
}

interface Legend {
  /** `colour`: null for houses that are never lit. */
  readonly entries: readonly { readonly text: string; readonly colour: string | null; readonly x: number; readonly line: number }[];
  readonly lines: number;
}

const SWATCH = 22;

/** What the colours mean: in one line, or in as many as a narrow picture needs. */
function legendOf({ ends, colours }: Shading, width: number): Legend {
  const all = [
    { text: "never", colour: null },
    ...ends.map((end, i) => ({ text: i === 0 ? `up to ${percent(end)}` : `to ${percent(end)}`, colour: colours[i]! })),
  ];
  const wide = all.map(({ text }) => SWATCH + textWidth(text, TEXT_SIZE));
  const filled = wide.reduce((sum, one) => sum + one, 0);
  const gap = Math.max(10, Math.min(22, (width - filled) / (all.length - 1)));
  let [x, line] = [0, 0];
  const entries = all.map((entry, i) => {
    if (x > 0 && x + wide[i]! > width + 0.5) [x, line] = [0, line + 1];
    const placed = { ...entry, x, line };
    x += wide[i]! + gap;
    return placed;
  });
  return { entries, lines: line + 1 };
}

function drawLegend(drawing: Drawing, { entries }: Legend, top: number): void {
  drawing.text(0, top + 20, "Lit for this share of the open time:", { fill: QUIET });
  for (const { text, colour, x, line } of entries) {
    const y = top + 40 + line * LEGEND_LINE;
    const dashed = colour === null ? { "stroke-dasharray": "3 2.5" } : {};
    drawing.path(houseOutline({ x: x + 9, y }, 16), { fill: colour ?? PAPER, stroke: INK, "stroke-linejoin": "round", ...dashed });
    drawing.text(x + SWATCH, y + 4, text);
  }
}
