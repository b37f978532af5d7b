import { scaleLinear } from "d3-scale";
import type { Figures } from "../../sim/figures/index.js";
import { houseNames } from "../../sim/model/housename.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { percent, spokenDuration } from "../../sim/units/text.js";
import { BAR, GUIDE, QUIET } from "./colours.js";
import { bars, Drawing, lines, PICTURE_WIDTH, TITLE_HEIGHT } from "./drawing.js";
import { partOf, ROW_HEIGHT, rowSheets } from "./sheets.js";

const LEFT = 170;
const BAR_END = PICTURE_WIDTH - 210;
const SHARE_END = PICTURE_WIDTH - 140;
const HEAD_HEIGHT = 22;
const AXIS_HEIGHT = 44;
const TITLE = "Share of the open time for which each house is lit";

/** A bar for each house, by zone, with its share and its longest dark stretch beside it; one picture a sheet. */
export function drawLitShares(document: Document, { houses }: Scenario, { houses: found }: Figures): SVGSVGElement[] {
  const largest = Math.max(...found.map(({ litShare }) => litShare));
  const x = scaleLinear([0, largest || 1], [LEFT, BAR_END]).nice(5);
  const sheets = rowSheets(houses, 0);
  const names = houseNames({ houses });
  return sheets.map((rows, sheet) => {
    const top = TITLE_HEIGHT + HEAD_HEIGHT;
    const bottom = top + rows.length * ROW_HEIGHT;
    const drawing = new Drawing(document, {
      id: `lit-houses-${sheet + 1}`,
      width: PICTURE_WIDTH,
      height: bottom + AXIS_HEIGHT,
      title: TITLE + partOf(sheet, sheets.length),
      description: "A bar for each house: how much of the open time it is lit, and how long it is dark at most without a break",
    });
    drawing.heading(TITLE + partOf(sheet, sheets.length));
    drawing.text(SHARE_END, top - 8, "lit", { anchor: "end", fill: QUIET });
    drawing.text(PICTURE_WIDTH, top - 8, "longest dark", { anchor: "end", fill: QUIET });
    const ticks = x.ticks(5);
    drawing.path(lines(ticks.map((tick) => [x(tick), top, x(tick), bottom] as const)), { stroke: GUIDE, fill: "none" });
    const barOf = rows.flatMap((row, i) =>
      row.kind === "house"
        ? [{ x: LEFT, y: top + i * ROW_HEIGHT + 3, width: x(found[row.house]!.litShare) - LEFT, height: ROW_HEIGHT - 6 }]
        : [],
    );
    drawing.path(bars(barOf), { fill: BAR });
    drawing.path(`M${LEFT} ${top}V${bottom}`, { stroke: QUIET, fill: "none" });
    rows.forEach((row, i) => {
      const base = top + i * ROW_HEIGHT + 13;
      if (row.kind === "heading") drawing.text(0, base, row.text, { bold: true, room: LEFT - 12 });
      if (row.kind !== "house") return;
      const { litShare, longestDarkSeconds } = found[row.house]!;
      drawing.text(LEFT - 8, base, names[row.house]!, { anchor: "end", room: LEFT - 12 });
      drawing.text(SHARE_END, base, percent(litShare), { anchor: "end" });
      drawing.text(PICTURE_WIDTH, base, spokenDuration(longestDarkSeconds), { anchor: "end" });
    });
    for (const tick of ticks) drawing.text(x(tick), bottom + 16, percent(tick), { anchor: "middle", fill: QUIET });
    drawing.text((LEFT + BAR_END) / 2, bottom + 34, "share of the open time", { anchor: "middle", fill: QUIET });
    return drawing.svg;
  });
}
