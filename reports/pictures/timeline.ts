import { area } from "d3-shape";
import type { ScaleLinear } from "d3-scale";
import type { SceneRecord } from "../../sim/engine/record.js";
import { houseNames } from "../../sim/model/housename.js";
import { clockAxis, drawClockAxis, type Stretch } from "./clock-axis.js";
import { GUIDE, INK, LIT, NIGHT, PAPER, QUIET, STEP_DARK, STEP_PALE } from "./colours.js";
import { bars, decimal, Drawing, lines, PICTURE_WIDTH, TEXT_SIZE, TITLE_HEIGHT } from "./drawing.js";
import { partOf, ROW_HEIGHT, rowSheets, type SheetRow } from "./sheets.js";
import { stepRows, type StepStretch } from "./steps.js";
import { litRows, type Row } from "./stretches.js";
import { textWidth } from "./text.js";

const LEFT = 170;
const RIGHT = PICTURE_WIDTH - 6;
const BAR_HEIGHT = ROW_HEIGHT - 4;
const AXIS_HEIGHT = 26;
const LEGEND_HEIGHT = 30;

export interface TimelineFacts {
  /** Begins the ids and names the picture: "timeline". */
  readonly id: string;
  readonly title: string;
  /** Number of the opening, from 0, and the part of it that is shown. */
  readonly opening: number;
  readonly window: Stretch;
}

/** When each house is lit, and under it the steps of the boards, along the time of day; one picture a sheet. */
export function drawTimeline(document: Document, record: SceneRecord, facts: TimelineFacts): SVGSVGElement[] {
  const { scenario, trace } = record;
  if (trace === null) throw new TypeError("a timeline needs a record with a trace");
  const content: Content = {
    record,
    names: houseNames(scenario),
    lit: litRows(record, facts.opening, facts.window, RIGHT - LEFT),
    steps: stepRows(trace, scenario.boards.length, facts.window),
  };
  const sheets = rowSheets(scenario.houses, scenario.boards.length);
  return sheets.map((rows, sheet) => drawSheet(document, facts, content, rows, sheet, sheets.length));
}

interface Content {
  readonly record: SceneRecord;
  /** Of the houses. */
  readonly names: readonly string[];
  readonly lit: readonly Row[];
  readonly steps: readonly (readonly StepStretch[] | null)[];
}

function drawSheet(
  document: Document,
  { id, title, window }: TimelineFacts,
  { record, names, lit, steps }: Content,
  rows: readonly SheetRow[],
  sheet: number,
  sheets: number,
): SVGSVGElement {
  const { boards } = record.scenario;
  const top = TITLE_HEIGHT + AXIS_HEIGHT;
  const bottom = top + rows.length * ROW_HEIGHT;
  const axis = clockAxis(window, LEFT, RIGHT);
  const drawing = new Drawing(document, {
    id: `${id}-${sheet + 1}`,
    width: PICTURE_WIDTH,
    height: bottom + AXIS_HEIGHT + LEGEND_HEIGHT,
    title: title + partOf(sheet, sheets),
    description: "A row for each house, bright while it is lit; a row for each board, with a change of tint at each step",
  });
  drawing.heading(title + partOf(sheet, sheets));
  drawing.path(lines(axis.ticks.map(({ x }) => [x, top, x, bottom] as const)), { stroke: GUIDE, fill: "none" });
  drawing.text(0, top - 8, "time of day", { fill: QUIET });
  drawClockAxis(drawing, axis, top - 1, "above", PICTURE_WIDTH);
  rows.forEach((row, i) => {
    const y = top + i * ROW_HEIGHT;
    const base = y + BAR_HEIGHT - 1;
    switch (row.kind) {
      case "heading":
        drawing.text(0, base, row.text, { bold: true, room: LEFT - 12 });
        break;
      case "house":
        drawing.text(LEFT - 8, base, names[row.house]!, { anchor: "end", room: LEFT - 12 });
        drawLitRow(drawing, lit[row.house]!, axis.x, y + 1);
        break;
      case "board":
        drawing.text(LEFT - 8, base, boards[row.board]!.id, { anchor: "end", room: LEFT - 12 });
        drawStepRow(drawing, steps[row.board]!, axis.x, y + 1);
        break;
    }
  });
  drawClockAxis(drawing, axis, bottom, "below", PICTURE_WIDTH);
  const dense = rows.some((row) => row.kind === "house" && lit[row.house]!.kind === "dense");
  drawLegend(drawing, rows, dense, bottom + AXIS_HEIGHT + 18);
  return drawing.svg;
}

/** A dark band, and on it the lit stretches as one path. */
function drawLitRow(drawing: Drawing, row: Row, x: ScaleLinear<number, number>, y: number): void {
  drawing.add("rect", { x: LEFT, y, width: RIGHT - LEFT, height: BAR_HEIGHT, fill: NIGHT });
  const lit =
    row.kind === "stretches"
      ? bars(row.stretches.map(({ from, until }) => ({ x: x(from), y: y + 1, width: x(until) - x(from), height: BAR_HEIGHT - 2 })))
      : meanArea(row.shares, y + 1, BAR_HEIGHT - 2);
  drawing.path(lit, { fill: LIT });
}

/** Where changes are too fast to be drawn: an area as high as the share of each pixel's time. */
function meanArea(shares: readonly number[], y: number, height: number): string {
  const shape = area<number>()
    .digits(2)
    .x((_, i) => LEFT + i + 0.5)
    .y0(y + height)
    .y1((share) => y + height * (1 - share));
  return shape(shares) ?? "";
}

/** A strip whose tint changes at each step, with the number of the step where there is room. */
function drawStepRow(drawing: Drawing, steps: readonly StepStretch[] | null, x: ScaleLinear<number, number>, y: number): void {
  const frame = { x: LEFT, y: y + 0.5, width: RIGHT - LEFT, height: BAR_HEIGHT - 1 };
  drawing.add("rect", { ...frame, fill: PAPER, stroke: STEP_DARK });
  if (steps === null) {
    drawing.text((LEFT + RIGHT) / 2, y + BAR_HEIGHT - 3, "steps too fast to be drawn one by one", { anchor: "middle", fill: INK });
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

function drawLegend(drawing: Drawing, rows: readonly SheetRow[], dense: boolean, base: number): void {
  let x = dense ? 0 : LEFT;
  const entry = (fill: string, text: string): void => {
    drawing.add("rect", { x, y: base - 10, width: 22, height: 12, fill, stroke: INK });
    drawing.text(x + 28, base, text);
    x += 28 + textWidth(text, TEXT_SIZE) + 20;
  };
  if (rows.some(({ kind }) => kind === "house")) {
    entry(LIT, dense ? "lit; where changes are too fast, height: share" : "lit");
    entry(NIGHT, "dark");
  }
  if (rows.some(({ kind }) => kind === "board")) {
    entry(STEP_DARK, "one step");
    entry(STEP_PALE, "the next step");
    drawing.text(x, base, "steps count from 0", { fill: QUIET });
  }
}
