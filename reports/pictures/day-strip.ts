import type { SceneRecord } from "../../sim/engine/record.js";
import { sameAsDayBefore } from "../../sim/figures/daybefore.js";
import { timeline } from "../../sim/figures/timeline.js";
import { clockAxis, drawClockAxis } from "./clock-axis.js";
import { BAR, GUIDE, PAPER, QUIET } from "./colours.js";
import { bars, Drawing, lines, PICTURE_WIDTH, TITLE_HEIGHT } from "./drawing.js";
import { WEEKDAYS } from "../../sim/units/clock.js";
import { DAY } from "../../sim/units/time.js";

const TITLE = "When a day repeats the day before";
const LEFT = 70;
const RIGHT = PICTURE_WIDTH - 6;
/** Openings drawn; a page holds no more rows that can be told apart. */
const MOST = 60;
/** A row for each opening but the first, filled where it shows what the opening before showed at that time of day. */
export function drawDayStrip(document: Document, record: SceneRecord): SVGSVGElement {
  const line = timeline(record);
  const { from, until } = record.scenario.opening;
  const shown = Math.min(MOST, record.openings.length);
  const row = shown <= 31 ? 16 : 9;
  const top = TITLE_HEIGHT + 26;
  const bottom = top + (shown - 1) * row;
  const cut = record.openings.length > shown ? ` (the first ${shown} openings)` : "";
  const drawing = new Drawing(document, {
    id: "day-strip",
    width: PICTURE_WIDTH,
    height: bottom + 30,
    title: TITLE + cut,
    description: "A row for each opening from the second on, filled for the time in which its scene is that of the same time of the " +
      "opening before.",
  });
  drawing.heading(TITLE + cut);
  drawing.text(0, TITLE_HEIGHT + 8, "along the time of day; filled: the scene of the same time one opening before", { fill: QUIET });
  const axis = clockAxis({ from, until }, LEFT, RIGHT);
  drawing.path(lines(axis.ticks.map(({ x }) => [x, top, x, bottom] as const)), { stroke: GUIDE, fill: "none" });
  for (let k = 1; k < shown; k++) {
    const y = top + (k - 1) * row;
    const midnight = record.openings[k]!.from - from;
    if (row >= 14 || k % 5 === 1) {
      const day = Math.round(midnight / DAY);
      drawing.text(LEFT - 8, y + row - 4, `${WEEKDAYS[day % 7]!} ${k + 1}`, { anchor: "end", fill: QUIET });
    }
    drawing.add("rect", { x: LEFT, y: y + 1, width: RIGHT - LEFT, height: row - 3, fill: PAPER, stroke: GUIDE });
    const same = sameAsDayBefore(line, k).map((stretch) => {
      const x = axis.x(stretch.from - midnight);
      return { x, y: y + 1, width: axis.x(stretch.until - midnight) - x, height: row - 3 };
    });
    drawing.path(bars(same), { fill: BAR });
  }
  drawClockAxis(drawing, axis, bottom, "below", PICTURE_WIDTH);
  return drawing.svg;
}
