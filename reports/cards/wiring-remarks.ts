import { INK } from "../pictures/colours.js";
import type { Drawing } from "../pictures/drawing.js";
import { wrapped } from "../pictures/text.js";
import { AREA, type DrawContent } from "./sheet.js";

const TEXT = { size: 11, line: 13.5, indent: 14, gap: 4 } as const;

/** What has to be known besides the wires, handed out to wherever there is room for it. */
export class Remarks {
  private rest: readonly (readonly string[])[];

  constructor(remarks: readonly string[]) {
    this.rest = remarks.map((text) => wrapped(text, AREA.width - TEXT.indent, TEXT.size));
  }

  get left(): number {
    return this.rest.length;
  }

  /** As many of the remarks that are left as fit between y and the end of the sheet; at its top at least one. */
  below(y: number): DrawContent {
    const count = Math.max(y < AREA.y + TEXT.line ? 1 : 0, fitting(this.rest, AREA.y + AREA.height - y));
    const here = this.rest.slice(0, count);
    this.rest = this.rest.slice(count);
    return (drawing) => drawRemarks(drawing, here, y);
  }
}

function drawRemarks(drawing: Drawing, paragraphs: readonly (readonly string[])[], top: number): void {
  let y = top;
  if (paragraphs.length > 0) drawing.text(0, (y += TEXT.line) - 3, "To know besides", { size: 12, bold: true });
  for (const paragraph of paragraphs) {
    y += TEXT.gap;
    drawing.add("circle", { cx: 3, cy: y + TEXT.line - 7, r: 1.5, fill: INK });
    for (const line of paragraph) drawing.text(TEXT.indent, (y += TEXT.line) - 3, line, { size: TEXT.size });
  }
}

/** How many paragraphs, with their heading, fit into a height. */
function fitting(paragraphs: readonly (readonly string[])[], height: number): number {
  let used = TEXT.line;
  const over = paragraphs.findIndex((paragraph) => (used += TEXT.gap + paragraph.length * TEXT.line) > height);
  return over < 0 ? paragraphs.length : over;
}
