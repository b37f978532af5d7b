import { scaleBand, scaleLinear } from "d3-scale";
import type { Figures } from "../../sim/figures/index.js";
import { percent } from "../../sim/units/text.js";
import { BAR, GUIDE, QUIET } from "./colours.js";
import { bars, Drawing, lines, PICTURE_WIDTH, TEXT_SIZE, titleHeight } from "./drawing.js";
import { textWidth } from "./text.js";

const LEFT = 60;
const HEIGHT = 200;
const TITLE = "For how much of the open time so many houses are lit at once";
/** A few bars alone would be as wide as doors. */
const WIDEST_BAND = 90;

/** A bar for each number of houses lit at once: the share of the open time with just that many. */
export function drawLitAtOnce(document: Document, { lit: { min, max, shares } }: Figures, wide = PICTURE_WIDTH): SVGSVGElement {
  const counts = Array.from({ length: max - min + 1 }, (_, i) => min + i);
  const right = Math.min(wide, LEFT + counts.length * WIDEST_BAND);
  const x = scaleBand(counts, [LEFT, right]).paddingInner(0.15).paddingOuter(0.1);
  const top = titleHeight(TITLE, wide) + 32;
  const bottom = top + HEIGHT;
  const y = scaleLinear([0, Math.max(...shares)], [bottom, top]).nice(5);
  const drawing = new Drawing(document, {
    id: "lit-at-once",
    width: wide,
    height: bottom + 44,
    title: TITLE,
    description: `From ${min} to ${max} houses are lit at once; a bar for each number shows for how much of the open time`,
  });
  drawing.heading(TITLE);
  drawing.text(0, top - 24, "share of the open time", { fill: QUIET });
  const ticks = y.ticks(5);
  drawing.path(lines(ticks.map((tick) => [LEFT, y(tick), right, y(tick)] as const)), { stroke: GUIDE, fill: "none" });
  for (const tick of ticks) drawing.text(LEFT - 8, y(tick) + 4, percent(tick), { anchor: "end", fill: QUIET });
  const width = x.bandwidth();
  drawing.path(bars(counts.map((n) => ({ x: x(n)!, y: y(shares[n]!), width, height: bottom - y(shares[n]!) }))), { fill: BAR, "data-figure": "lit.shares" });
  drawing.path(`M${LEFT} ${bottom}H${right}`, { stroke: QUIET, fill: "none" });

  const every = Math.ceil((textWidth(String(max), TEXT_SIZE) + 10) / x.step());
  const roomForValues = x.step() >= textWidth("88.88 %", TEXT_SIZE) + 6;
  for (const n of counts) {
    const middle = x(n)! + width / 2;
    if ((n - min) % every === 0) drawing.text(middle, bottom + 16, String(n), { anchor: "middle", fill: QUIET });
    if (roomForValues) drawing.text(middle, y(shares[n]!) - 5, percent(shares[n]!), { anchor: "middle", figure: `lit.shares[${n}]` });
  }
  drawing.text((LEFT + right) / 2, bottom + 36, "houses lit at once", { anchor: "middle", fill: QUIET });
  return drawing.svg;
}
