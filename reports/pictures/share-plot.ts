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

/** Least height of such a frame, as a share. */
const LEAST = 0.05;

/**
 * Height for a frame in which something is to be seen of curves that begin high and fall at once: that of their highest point
 * after the first fall. What is higher runs out of the frame, which a note says.
 */
export function heightAfterFall(curves: readonly (readonly number[])[], level: number): number {
  const highest = Math.max(level, LEAST / AIR, ...curves.flatMap((shares) => shares.slice(fallEnd(shares))));
  const all = Math.max(LEAST, level, ...curves.flat());
  // a curve that fits all but a little is shown whole
  return highest * WHOLE >= all ? all : highest * AIR;
}

/** Number of the first point from which a curve does not fall any more. */
export function fallEnd(shares: readonly number[]): number {
  const rise = shares.findIndex((share, i) => i > 0 && share > shares[i - 1]!);
  return rise < 0 ? shares.length - 1 : rise - 1;
}

const AIR = 1.25;
const WHOLE = 3;

/** Says where curves run out of the frame. */
export function noteFall(drawing: Drawing, { x, y }: SharePlot, curves: readonly (readonly number[])[]): void {
  const [, highest] = y.domain() as [number, number];
  const most = Math.max(...curves.flat());
  if (most <= highest) return;
  drawing.text(x(0) + 10, y(highest) + 18, `at first more: up to ${percent(most)}`, { fill: QUIET, halo: true });
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
