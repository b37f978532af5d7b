import { GUIDE, INK } from "../pictures/colours.js";
import { lines, TEXT_SIZE, type Drawing } from "../pictures/drawing.js";
import { wrapped } from "../pictures/text.js";
import { AREA, type DrawContent } from "./sheet.js";

/** A line of a sheet that is worked through from top to bottom. */
export interface Item {
  /** `head`: what follows belongs to it; `tick`: has a box to tick; `plain`: is only read. */
  readonly kind: "head" | "tick" | "plain";
  readonly text: string;
  /** Room to write something in by hand, at the right. */
  readonly blank?: string;
}

const LINE = 13;
const PAD = 4;
const BOX = 11;
const INDENT = 20;
const BLANK = 190;
const HEAD = { size: 14, above: 8, height: 17 } as const;

/** Items in order on as many sheets as they need; a heading stays with what follows it. */
export function tickedSheets(items: readonly Item[]): DrawContent[] {
  const sheets: Item[][] = [[]];
  let left = AREA.height;
  items.forEach((item, i) => {
    const follows = item.kind === "head" && items[i + 1] !== undefined ? heightOf(items[i + 1]!) : 0;
    if (heightOf(item) + follows > left && sheets.at(-1)!.length > 0) {
      sheets.push([]);
      left = AREA.height;
    }
    sheets.at(-1)!.push(item);
    left -= heightOf(item);
  });
  return sheets.map((sheet) => (drawing) => drawItems(drawing, sheet));
}

function linesOf({ text, blank }: Item): string[] {
  return wrapped(text, AREA.width - INDENT - (blank === undefined ? 0 : BLANK + 10), TEXT_SIZE);
}

function heightOf(item: Item): number {
  return item.kind === "head" ? HEAD.above + HEAD.height : linesOf(item).length * LINE + PAD;
}

function drawItems(drawing: Drawing, items: readonly Item[]): void {
  let y = AREA.y;
  for (const item of items) {
    if (item.kind === "head") {
      drawing.text(0, y + HEAD.above + 11, item.text, { size: HEAD.size, bold: true, room: AREA.width });
      y += HEAD.above + HEAD.height;
      continue;
    }
    if (item.kind === "tick") drawing.add("rect", { x: 1, y: y + 2, width: BOX, height: BOX, fill: "none", stroke: INK, "stroke-width": 1.2 });
    linesOf(item).forEach((line, i) => drawing.text(INDENT, y + 12 + i * LINE, line));
    if (item.blank !== undefined) {
      const x = AREA.width - BLANK;
      drawing.text(x, y + 12, item.blank, { room: BLANK / 2 });
      drawing.path(lines([[x + BLANK / 2, y + 14, AREA.width, y + 14]]), { stroke: INK, "stroke-width": 0.75 });
    }
    y += linesOf(item).length * LINE + PAD;
    drawing.path(lines([[INDENT, y - 2, AREA.width, y - 2]]), { stroke: GUIDE, "stroke-width": 0.5 });
  }
}
