import { scaleLinear } from "d3-scale";
import type { Figures } from "../../sim/figures/index.js";
import { houseNames } from "../../sim/model/housename.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { percent, spokenDuration } from "../../sim/units/text.js";
import { BAR, GUIDE, QUIET } from "./colours.js";
import { bars, Drawing, lines, PICTURE_WIDTH, titleHeight } from "./drawing.js";
import { partOf, ROW_HEIGHT, rowSheets } from "./sheets.js";

/** Room for names, and, counted from the right edge, where bars and shares end; in a picture narrower than a page, less of each. */
const WIDE = { left: 170, barEnd: 210, shareEnd: 140 };
const NARROW = { left: 110, barEnd: 134, shareEnd: 82 };
const HEAD_HEIGHT = 22;
const TICK_ROOM = 44;
const AXIS_HEIGHT = 44;
const TITLE = "Share of the open time for which each house is lit";

/** A bar for each house, by zone, with its share and its longest dark stretch beside it; one picture a sheet, so many pixels wide. */
export function drawLitShares(document: Document, { houses }: Scenario, { houses: found }: Figures, width = PICTURE_WIDTH): SVGSVGElement[] {
  const { left, ...fromRight } = width < PICTURE_WIDTH ? NARROW : WIDE;
  const [barEnd, shareEnd] = [width - fromRight.barEnd, width - fromRight.shareEnd];
  const largest = Math.max(...found.map(({ litShare }) => litShare));
  const x = scaleLinear([0, largest || 1], [left, barEnd]).nice(5);
  // as many as have room for their words
  const ticks = [5, 3, 2, 1].map((count) => x.ticks(count)).find((all) => all.every((tick, i) => i === 0 || x(tick) - x(all[i - 1]!) >= TICK_ROOM)) ?? [0];
  const sheets = rowSheets(houses, 0);
  const names = houseNames({ houses });
  return sheets.map((rows, sheet) => {
    const title = TITLE + partOf(sheet, sheets.length);
    const top = titleHeight(title, width) + HEAD_HEIGHT;
    const bottom = top + rows.length * ROW_HEIGHT;
    const drawing = new Drawing(document, {
      id: `lit-houses-${sheet + 1}`,
      width,
      height: bottom + AXIS_HEIGHT,
      title,
      description: "A bar for each house: how much of the open time it is lit, and how long it is dark at most without a break",
    });
    drawing.heading(title);
    drawing.text(shareEnd, top - 8, "lit", { anchor: "end", fill: QUIET });
    drawing.text(width, top - 8, "longest dark", { anchor: "end", fill: QUIET });
    drawing.path(lines(ticks.map((tick) => [x(tick), top, x(tick), bottom] as const)), { stroke: GUIDE, fill: "none" });
    const barOf = rows.flatMap((row, i) =>
      row.kind === "house"
        ? [{ x: left, y: top + i * ROW_HEIGHT + 3, width: x(found[row.house]!.litShare) - left, height: ROW_HEIGHT - 6 }]
        : [],
    );
    drawing.path(bars(barOf), { fill: BAR, "data-figure": "houses[].litShare" });
    drawing.path(`M${left} ${top}V${bottom}`, { stroke: QUIET, fill: "none" });
    rows.forEach((row, i) => {
      const base = top + i * ROW_HEIGHT + 13;
      if (row.kind === "heading") drawing.text(0, base, row.text, { bold: true, room: left - 12 });
      if (row.kind !== "house") return;
      const { litShare, longestDarkSeconds } = found[row.house]!;
      drawing.text(left - 8, base, names[row.house]!, { anchor: "end", room: left - 12 });
      drawing.text(shareEnd, base, percent(litShare), { anchor: "end", figure: `houses[${row.house}].litShare` });
      drawing.text(width, base, spokenDuration(longestDarkSeconds), { anchor: "end", figure: `houses[${row.house}].longestDarkSeconds` });
    });
    for (const tick of ticks) drawing.text(x(tick), bottom + 16, percent(tick), { anchor: "middle", fill: QUIET });
    drawing.text((left + barEnd) / 2, bottom + 34, "share of the open time", { anchor: "middle", fill: QUIET });
    return drawing.svg;
  });
}
