import type { SceneRecord } from "../../sim/engine/record.js";
import { sameAsDayBefore } from "../../sim/figures/daybefore.js";
import { timeline } from "../../sim/figures/timeline.js";
import { clockAxis, drawClockAxis } from "./clock-axis.js";
import { BAR, GUIDE, PAPER, QUIET } from "./colours.js";
import { bars, Drawing, lines, PICTURE_WIDTH, TEXT_SIZE, titleHeight } from "./drawing.js";
import { wrapped } from "./text.js";
import { WEEKDAYS } from "../../sim/units/clock.js";
import { DAY } from "../../sim/units/time.js";

const TITLE = "When a day repeats the day before";
const LEFT = 70;
const MARGIN = 6;
const LINE = 15;
const WHAT = "along the time of day; filled: the scene of the same time one opening before";
/** Openings drawn; a page holds no more rows that can be told apart. */
const MOST = 60;
/** A row for each opening but the first, filled where it shows what the opening before showed at that time of day. */
export function drawDayStrip(document: Document, record: SceneRecord, width = PICTURE_WIDTH): SVGSVGElement {
  const right = width - MARGIN;
  const line = timeline(record);
  const { from, until } = record.scenario.opening;
  const shown = Math.min(MOST, record.openings.length);
  const row = shown <= 31 ? 16 : 9;
  const title = TITLE + (record.openings.length > shown ? ` (the first ${shown} openings)` : "");
  const under = titleHeight(title, width);
  const what = wrapped(WHAT, width, TEXT_SIZE);
  const top = under + 11 + what.length * LINE;
  const bottom = top + (shown - 1) * row;
  const drawing = new Drawing(document, {
    id: "day-strip",
    width,
    height: bottom + 30,
    title,
    description: "A row for each opening from the second on, filled for the time in which its scene is that of the same time of the " +
      "opening before.",
  });
  drawing.heading(title);
  what.forEach((words, i) => drawing.text(0, under + 8 + i * LINE, words, { fill: QUIET }));
  const axis = clockAxis({ from, until }, LEFT, right);
  drawing.path(lines(axis.ticks.map(({ x }) => [x, top, x, bottom] as const)), { stroke: GUIDE, fill: "none" });
  for (let k = 1; k < shown; k++) {
    const y = top + (k - 1) * row;
    const midnight = record.openings[k]!.from - from;
    if (row >= 14 || k % 5 === 1) {
      const day = Math.round(midnight / DAY);
      drawing.text(LEFT - 8, y + row - 4, `${WEEKDAYS[day % 7]!} ${k + 1}`, { anchor: "end", fill: QUIET });
    }
    drawing.add("rect", { x: LEFT, y: y + 1, width: right - LEFT, height: row - 3, fill: PAPER, stroke: GUIDE });
    const same = sameAsDayBefore(line, k).map((stretch) => {
      const x = axis.x(stretch.from - midnight);
      return { x, y: y + 1, width: axis.x(stretch.until - midnight) - x, height: row - 3 };
    });
    drawing.path(bars(same), { fill: BAR });
  }
  drawClockAxis(drawing, axis, bottom, "below", width);
  return drawing.svg;
}
