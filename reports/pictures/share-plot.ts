import { scaleLinear, type ScaleLinear } from "d3-scale";
import { percent, spokenDuration } from "../../sim/units/text.js";
import { GUIDE, QUIET } from "./colours.js";
import { lines, PICTURE_WIDTH, TITLE_HEIGHT, type Drawing } from "./drawing.js";

/** A frame for shares against a duration: duration along, 0 … 100 % up. */
export interface SharePlot {
  readonly x: ScaleLinear<number, number>;
  readonly y: ScaleLinear<number, number>;
  readonly bottom: number;
}

const LEFT = 60;
const RIGHT = PICTURE_WIDTH - 16;
/** Between title and frame stand what is measured and, under it, labels of the highest points. */
const TOP = TITLE_HEIGHT + 38;
const HEIGHT = 230;
/** Height of a picture with such a frame in it. */
export const SHARE_PLOT_HEIGHT = TOP + HEIGHT + 46;

const TICKS = [60, 300, 600, 900, 1800, 3600, 7200];

/** Draws axes for durations up to `longest` seconds and shares up to `highest`. */
export function sharePlot(drawing: Drawing, longest: number, highest: number, along: string, up: string): SharePlot {
  const bottom = TOP + HEIGHT;
  const x = scaleLinear([0, longest], [LEFT, RIGHT]);
  const y = scaleLinear([0, highest], [bottom, TOP]);
  const every = TICKS.find((step) => longest / step <= 9) ?? longest / 6;
  const shares = y.ticks(5);
  drawing.path(lines(shares.map((share) => [LEFT, y(share), RIGHT, y(share)] as const)), { stroke: GUIDE, fill: "none" });
  for (const share of shares) drawing.text(LEFT - 8, y(share) + 4, percent(share), { anchor: "end", fill: QUIET });
  drawing.path(`M${LEFT} ${bottom}H${RIGHT}`, { stroke: QUIET, fill: "none" });
  for (let at = 0; at <= longest; at += every) {
    drawing.path(`M${x(at).toFixed(2)} ${bottom}v5`, { stroke: QUIET, fill: "none" });
    const text = at === 0 ? "0" : spokenDuration(at);
    drawing.text(x(at), bottom + 18, text, { anchor: at + every > longest ? "end" : "middle", fill: QUIET });
  }
  drawing.text(0, TITLE_HEIGHT + 8, up, { fill: QUIET });
  drawing.text((LEFT + RIGHT) / 2, bottom + 38, along, { anchor: "middle", fill: QUIET });
  return { x, y, bottom };
}
