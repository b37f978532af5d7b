import { INK } from "../pictures/colours.js";
import type { Drawing, Rect } from "../pictures/drawing.js";
import { wrapped } from "../pictures/text.js";

/** A paragraph of a card. */
export interface Paragraph {
  /** Line breaks in it are kept. */
  readonly text: string;
  readonly bold?: boolean;
  /** In smaller letters. */
  readonly small?: boolean;
  /** A number or sign before it; the lines stand to its right. */
  readonly lead?: string | ((drawing: Drawing, x: number, y: number) => void);
  /** Space above, drawing units. */
  readonly above?: number;
}

const FULL = { size: 12, line: 14.5 } as const;
const SMALL = { size: 11, line: 13.25 } as const;
const LEAD = 20;

/** A paragraph in its place. */
export interface Placed {
  /** Index of its region. */
  readonly region: number;
  draw(drawing: Drawing): void;
}

/** Lays paragraphs into regions, one after the other; where the given ones are full, into as many of `more` as it takes. */
export function flow(paragraphs: readonly Paragraph[], regions: readonly Rect[], more: Rect): Placed[] {
  let region = 0;
  let used = 0;
  return paragraphs.map((paragraph) => {
    const indent = paragraph.lead === undefined ? 0 : LEAD;
    for (;;) {
      const rect = regions[region] ?? more;
      const { size, line } = sizeOf(paragraph);
      const lines = paragraph.text.split("\n").flatMap((part) => wrapped(part, rect.width - indent, size, paragraph.bold));
      const above = used === 0 ? 0 : (paragraph.above ?? 4);
      // a heading does not stand alone at the foot of a region
      const needed = above + lines.length * line + (paragraph.bold === true ? 3 * line : 0);
      if (used + needed > rect.height && !(used === 0 && region >= regions.length)) {
        region++;
        used = 0;
        continue;
      }
      const top = rect.y + used + above;
      used += above + lines.length * line;
      return { region, draw: (drawing) => drawParagraph(drawing, rect.x, top, indent, paragraph, lines) };
    }
  });
}

function sizeOf({ small = false }: Paragraph): typeof FULL | typeof SMALL {
  return small ? SMALL : FULL;
}

function drawParagraph(drawing: Drawing, x: number, top: number, indent: number, paragraph: Paragraph, lines: readonly string[]): void {
  const { lead, bold = false } = paragraph;
  const { size, line } = sizeOf(paragraph);
  if (typeof lead === "string") drawing.text(x, top + 11, lead, { bold: true, size });
  else lead?.(drawing, x, top);
  lines.forEach((words, i) => drawing.text(x + indent, top + 11 + i * line, words, { bold, size }));
}

/** A swatch to stand before a paragraph. */
export function swatch(fill: string): (drawing: Drawing, x: number, y: number) => void {
  return (drawing, x, y) => drawing.add("rect", { x: x + 0.5, y: y + 1.5, width: 13, height: 10, fill, stroke: INK, "stroke-width": 0.75 });
}
