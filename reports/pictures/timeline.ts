import { area } from "d3-shape";
import type { ScaleLinear } from "d3-scale";
import type { SceneRecord } from "../../sim/engine/record.js";
import { houseNames } from "../../sim/model/housename.js";
import { clockAxis, drawClockAxis, type Stretch } from "./clock-axis.js";
import { GUIDE, INK, LIT, NIGHT, PAPER, QUIET, STEP_DARK, STEP_PALE } from "./colours.js";
import { bars, decimal, Drawing, lines, NARROW_BELOW, PICTURE_WIDTH, TEXT_SIZE, titleHeight } from "./drawing.js";
import { partOf, ROW_HEIGHT, rowSheets, type SheetRow } from "./sheets.js";
import { stepRows, type StepStretch } from "./steps.js";
import { litRows, type Row } from "./stretches.js";
import { textWidth } from "./text.js";

/** Room for names. */
const WIDE_LEFT = 170;
const NARROW_LEFT = 108;
const MARGIN = 6;
const BAR_HEIGHT = ROW_HEIGHT - 4;
const AXIS_HEIGHT = 26;
const LEGEND_HEIGHT = 30;
const LEGEND_LINE = 20;

export interface TimelineFacts {
  /** Begins the ids and names the picture: "timeline". */
  readonly id: string;
  readonly title: string;
  /** Number of the opening, from 0, and the part of it that is shown. */
  readonly opening: number;
  readonly window: Stretch;
  /** Pixels; on a phone fewer than elsewhere. */
  readonly width?: number;
}

/** When each house is lit, and under it the steps of the boards, along the time of day; one picture a sheet. */
export function drawTimeline(document: Document, record: SceneRecord, facts: TimelineFacts): SVGSVGElement[] {
  const { scenario, trace } = record;
  if (trace === null) throw new TypeError("a timeline needs a record with a trace");
  const { width = PICTURE_WIDTH } = facts;
  const [left, right] = [width < NARROW_BELOW ? NARROW_LEFT : WIDE_LEFT, width - MARGIN];
  const content: Content = {
    record,
    left,
    right,
    names: houseNames(scenario),
    lit: litRows(record, facts.opening, facts.window, right - left),
    steps: stepRows(trace, scenario.boards.length, facts.window),
  };
  const sheets = rowSheets(scenario.houses, scenario.boards.length);
  return sheets.map((rows, sheet) => drawSheet(document, facts, content, rows, sheet, sheets.length));
}

interface Content {
  readonly record: SceneRecord;
  /** Of the houses. */
  readonly names: readonly string[];
  /** Between which the rows run, pixels. */
  readonly left: number;
  readonly right: number;
  readonly lit: readonly Row[];
  readonly steps: readonly (readonly StepStretch[] | null)[];
}

function drawSheet(
  document: Document,
  { id, title: whole, window, width = PICTURE_WIDTH }: TimelineFacts,
  { record, names, left, right, lit, steps }: Content,
  rows: readonly SheetRow[],
  sheet: number,
  sheets: number,
): SVGSVGElement {
  const { boards } = record.scenario;
  const title = whole + partOf(sheet, sheets);
  const top = titleHeight(title, width) + AXIS_HEIGHT;
  const bottom = top + rows.length * ROW_HEIGHT;
  const axis = clockAxis(window, left, right);
  const dense = rows.some((row) => row.kind === "house" && lit[row.house]!.kind === "dense");
  const legend = legendOf(rows, dense, dense || width < NARROW_BELOW ? 0 : left, width);
  const drawing = new Drawing(document, {
    id: `${id}-${sheet + 1}`,
    width,
    height: bottom + AXIS_HEIGHT + LEGEND_HEIGHT + legend.at(-1)!.down,
    title,
    description: "A row for each house, bright while it is lit; a row for each board, with a change of tint at each step",
  });
  drawing.heading(title);
  drawing.path(lines(axis.ticks.map(({ x }) => [x, top, x, bottom] as const)), { stroke: GUIDE, fill: "none" });
  drawing.text(0, top - 8, "time of day", { fill: QUIET });
  drawClockAxis(drawing, axis, top - 1, "above", width);
  rows.forEach((row, i) => {
    const y = top + i * ROW_HEIGHT;
    const base = y + BAR_HEIGHT - 1;
    switch (row.kind) {
      case "heading":
        drawing.text(0, base, row.text, { bold: true, room: left - 12 });
        break;
      case "house":
        drawing.text(left - 8, base, names[row.house]!, { anchor: "end", room: left - 12 });
        drawLitRow(drawing, lit[row.house]!, axis.x, y + 1);
        break;
      case "board":
        drawing.text(left - 8, base, boards[row.board]!.id, { anchor: "end", room: left - 12 });
        drawStepRow(drawing, steps[row.board]!, axis.x, y + 1);
        break;
    }
  });
  drawClockAxis(drawing, axis, bottom, "below", width);
  drawLegend(drawing, legend, bottom + AXIS_HEIGHT + 18);
  return drawing.svg;
}

/** A dark band, and on it the lit stretches as one path. */
function drawLitRow(drawing: Drawing, row: Row, x: ScaleLinear<number, number>, y: number): void {
  const [left, right] = x.range() as [number, number];
  drawing.add("rect", { x: left, y, width: right - left, height: BAR_HEIGHT, fill: NIGHT });
  const lit =
    row.kind === "stretches"
      ? bars(row.stretches.map(({ from, until }) => ({ x: x(from), y: y + 1, width: x(until) - x(from), height: BAR_HEIGHT - 2 })))
      : meanArea(row.shares, left, y + 1, BAR_HEIGHT - 2);
  drawing.path(lit, { fill: LIT });
}

/** Where changes are too fast to be drawn: an area as high as the share of each pixel's time. */
function meanArea(shares: readonly number[], left: number, y: number, height: number): string {
  const shape = area<number>()
    .digits(2)
    .x((_, i) => left + i + 0.5)
    .y0(y + height)
    .y1((share) => y + height * (1 - share));
  return shape(shares) ?? "";
}

/** A strip whose tint changes at each step, with the number of the step where there is room. */
function drawStepRow(drawing: Drawing, steps: readonly StepStretch[] | null, x: ScaleLinear<number, number>, y: number): void {
  const [left, right] = x.range() as [number, number];
  const frame = { x: left, y: y + 0.5, width: right - left, height: BAR_HEIGHT - 1 };
  drawing.add("rect", { ...frame, fill: PAPER, stroke: STEP_DARK });
  if (steps === null) {
    const words = right - left < 240 ? "steps too fast to be drawn" : "steps too fast to be drawn one by one";
    drawing.text((left + right) / 2, y + BAR_HEIGHT - 3, words, { anchor: "middle", fill: INK });
    return;
  }
  const inTurn = (turn: number): string =>
    bars(steps.flatMap(({ from, until }, i) => (i % 2 === turn ? [{ ...frame, x: x(from), width: x(until) - x(from) }] : [])));
  drawing.path(inTurn(0), { fill: STEP_DARK });
  drawing.path(inTurn(1), { fill: STEP_PALE });
  drawing.add("rect", { ...frame, fill: "none", stroke: STEP_DARK });
  steps.forEach(({ from, until, step }, i) => {
    const text = String(step);
    if (x(until) - x(from) < textWidth(text, TEXT_SIZE) + 4) return;
    drawing.text(decimal((x(from) + x(until)) / 2), y + BAR_HEIGHT - 3, text, { anchor: "middle", fill: i % 2 === 0 ? PAPER : INK });
  });
}

interface LegendEntry {
  /** Null: a remark. */
  readonly fill: string | null;
  readonly text: string;
  readonly x: number;
  /** Below the first line of the legend, pixels. */
  readonly down: number;
}

const SWATCH = 28;

/** What the colours mean, from `left` on, in as many lines as it needs. */
function legendOf(rows: readonly SheetRow[], dense: boolean, left: number, width: number): LegendEntry[] {
  const entries: (readonly [fill: string | null, text: string])[] = [];
  if (rows.some(({ kind }) => kind === "house")) {
    entries.push([LIT, dense ? "lit; where changes are too fast, height: share" : "lit"], [NIGHT, "dark"]);
  }
  if (rows.some(({ kind }) => kind === "board")) {
    entries.push([STEP_DARK, "one step"], [STEP_PALE, "the next step"], [null, "steps count from 0"]);
  }
  let [x, down] = [left, 0];
  return entries.map(([fill, text]) => {
    const wide = (fill === null ? 0 : SWATCH) + textWidth(text, TEXT_SIZE);
    if (x > left && x + wide > width) [x, down] = [left, down + LEGEND_LINE];
    const entry = { fill, text, x, down };
    x += wide + 20;
    return entry;
  });
}

function drawLegend(drawing: Drawing, legend: readonly LegendEntry[], top: number): void {
  for (const { fill, text, x, down } of legend) {
    const base = top + down;
    if (fill === null) {
      drawing.text(x, base, text, { fill: QUIET });
      continue;
    }
    drawing.add("rect", { x, y: base - 10, width: 22, height: 12, fill, stroke: INK });
    drawing.text(x + SWATCH, base, text);
  }
}
