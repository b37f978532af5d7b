import { scaleLinear, scaleThreshold } from "d3-scale";
import type { Figures } from "../../sim/figures/index.js";
import { houseNames } from "../../sim/model/housename.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { percent } from "../../sim/units/text.js";
import { INK, PAPER, QUIET, shades, textOn } from "./colours.js";
import { Drawing, TEXT_SIZE, titleHeight } from "./drawing.js";
import { houseOutline, houseOutlines } from "./house.js";
import { HOUSE_SIZE, type Plan } from "./plan.js";
import { textWidth } from "./text.js";

const LEGEND_HEIGHT = 36;
const LEGEND_LINE = 22;
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
  for (const { text, x, y } of plan.headings) drawing.text(x, y + under, text, { bold: true, room: plan.width - 10 });

  const outline = { stroke: INK, "stroke-width": 1.5, "stroke-linejoin": "round" };
  for (const colour of shade.colours) {
    const members = moved.filter((_, house) => found[house]!.litShare > 0 && shade.colourOf(found[house]!.litShare) === colour);
    drawing.path(houseOutlines(members, HOUSE_SIZE), { fill: colour, ...outline });
  }
  const unlit = moved.filter((_, house) => found[house]!.litShare === 0);
  drawing.path(houseOutlines(unlit, HOUSE_SIZE), { fill: PAPER, ...outline, "stroke-dasharray": "3 2.5" });

  moved.forEach((spot, house) => {
    const share = found[house]!.litShare;
    const label = plan.labels?.[house];
    if (label === undefined) {
      const fill = share === 0 ? INK : textOn(shade.colourOf(share));
      drawing.text(spot.x, spot.y + HOUSE_SIZE / 2 - 4, String(house + 1), { anchor: "middle", fill });
    } else {
      const middle = label.x + label.width / 2;
      drawing.text(middle, label.y + under + 12, names[house]!, { anchor: "middle", room: label.width });
      drawing.text(middle, label.y + under + 26, percent(share), { anchor: "middle", fill: QUIET, figure: `houses[${house}].litShare` });
    }
  });
  drawLegend(drawing, legend, under + plan.height + 8);
  return drawing.svg;
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
  drawing.path(`M0 ${top}h${drawing.width}`, { stroke: QUIET, fill: "none" });
  drawing.text(0, top + 20, "Lit for this share of the open time:", { fill: QUIET });
  for (const { text, colour, x, line } of entries) {
    const y = top + 40 + line * LEGEND_LINE;
    const dashed = colour === null ? { "stroke-dasharray": "3 2.5" } : {};
    drawing.path(houseOutline({ x: x + 9, y }, 16), { fill: colour ?? PAPER, stroke: INK, "stroke-linejoin": "round", ...dashed });
    drawing.text(x + SWATCH, y + 4, text);
  }
}
