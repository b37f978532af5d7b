import { scaleLinear, type ScaleLinear } from "d3-scale";
import { percent, spokenDuration } from "../../sim/units/text.js";
import { GUIDE, QUIET } from "./colours.js";
import { lines, titleHeight, type Drawing } from "./drawing.js";

/** A frame for shares against a duration: duration along, 0 … 100 % up. */
export interface SharePlot {
  readonly x: ScaleLinear<number, number>;
  readonly y: ScaleLinear<number, number>;
  readonly bottom: number;
}

const LEFT = 60;
const MARGIN = 16;
/** Between title and frame stand what is measured and, under it, labels of the highest points. */
const HEAD = 38;
const HEIGHT = 230;
/** Width that the words of a tick take. */
const TICK_ROOM = 70;

/** Height of a picture with this title and such a frame in it. */
export function sharePlotHeight(title: string, width: number): number {
  return titleHeight(title, width) + HEAD + HEIGHT + 46;
}

const TICKS = [60, 300, 600, 900, 1800, 3600, 7200];

/** Draws the title, and axes for durations up to `longest` seconds and shares up to `highest`. */
export function sharePlot(drawing: Drawing, title: string, longest: number, highest: number, along: string, up: string): SharePlot {
  drawing.heading(title);
  const under = titleHeight(title, drawing.width);
  const [top, right] = [under + HEAD, drawing.width - MARGIN];
  const bottom = top + HEIGHT;
  const x = scaleLinear([0, longest], [LEFT, right]);
  const y = scaleLinear([0, highest], [bottom, top]);
  const most = Math.min(9, (right - LEFT) / TICK_ROOM);
  const every = TICKS.find((step) => longest / step <= most) ?? longest / 2;
  const shares = y.ticks(5);
  drawing.path(lines(shares.map((share) => [LEFT, y(share), right, y(share)] as const)), { stroke: GUIDE, fill: "none" });
  for (const share of shares) drawing.text(LEFT - 8, y(share) + 4, percent(share), { anchor: "end", fill: QUIET });
  drawing.path(`M${LEFT} ${bottom}H${right}`, { stroke: QUIET, fill: "none" });
  for (let at = 0; at <= longest; at += every) {
    drawing.path(`M${x(at).toFixed(2)} ${bottom}v5`, { stroke: QUIET, fill: "none" });
    const text = at === 0 ? "0" : spokenDuration(at);
    drawing.text(x(at), bottom + 18, text, { anchor: at + every > longest ? "end" : "middle", fill: QUIET });
  }
  drawing.text(0, under + 8, up, { fill: QUIET });
  drawing.text((LEFT + right) / 2, bottom + 38, along, { anchor: "middle", fill: QUIET });
  return { x, y, bottom };
}
