import type { End, Netlist, Wire } from "../../sim/netlist/index.js";
import type { House } from "../../sim/scenario/model.js";
import { GUIDE, INK } from "../pictures/colours.js";
import { lines, type Drawing } from "../pictures/drawing.js";
import { wrapped } from "../pictures/text.js";
import { AREA, type DrawContent } from "./sheet.js";
import { lampsAt } from "./wiring-board.js";

/** All wires in a table, and what else has to be known. */

const ROW = 15;
const COLUMNS = [
  { heading: "wire", x: 0 },
  { heading: "from", x: 40 },
  { heading: "pin", x: 145 },
  { heading: "to", x: 232 },
  { heading: "pin", x: 342 },
  { heading: "house, or what for", x: 440 },
] as const;
const GAP = 8;
const TEXT = { size: 12, line: 16, indent: 14, gap: 5 } as const;

type Paragraph = readonly string[];

/** The table and the remarks, on as many sheets as they need. */
export function tableSheets({ wires, remarks }: Netlist, houses: readonly House[]): DrawContent[] {
  const most = Math.floor(AREA.height / ROW) - 1;
  const sheets: DrawContent[] = [];
  let rest = remarks.map((text): Paragraph => wrapped(text, AREA.width - TEXT.indent, TEXT.size));
  /** As many of the remarks that are left as fit below y. */
  const remarksBelow = (y: number, least: number): DrawContent => {
    const count = Math.max(least, fitting(rest, AREA.y + AREA.height - y));
    const here = rest.slice(0, count);
    rest = rest.slice(count);
    return (drawing) => drawRemarks(drawing, here, y);
  };
  for (let i = 0; i < wires.length; i += most) {
    const rows = wires.slice(i, i + most);
    const end = AREA.y + (rows.length + 1) * ROW + 14;
    const below = i + most < wires.length ? null : remarksBelow(end, 0);
    sheets.push((drawing) => {
      drawRows(drawing, rows, houses);
      below?.(drawing);
    });
  }
  while (rest.length > 0) sheets.push(remarksBelow(AREA.y + 4, 1));
  return sheets;
}

function drawRows(drawing: Drawing, wires: readonly Wire[], houses: readonly House[]): void {
  const row = (cells: readonly string[], i: number, bold: boolean): void => {
    const y = AREA.y + i * ROW + 11;
    COLUMNS.forEach(({ x }, k) => {
      const right = COLUMNS[k + 1]?.x ?? AREA.width + GAP;
      drawing.text(x, y, cells[k]!, { bold: bold || k === 0, room: right - x - GAP });
    });
  };
  row(COLUMNS.map(({ heading }) => heading), 0, true);
  wires.forEach((wire, i) => row(cellsOf(wire, houses), i + 1, false));
  const under = (i: number): [number, number, number, number] => [0, AREA.y + i * ROW + 15, AREA.width, AREA.y + i * ROW + 15];
  drawing.path(lines([under(0)]), { stroke: INK, "stroke-width": 1 });
  drawing.path(lines(wires.map((_, i) => under(i + 1))), { stroke: GUIDE, "stroke-width": 0.75 });
}

function cellsOf({ number, from, to, purpose, houses }: Wire, all: readonly House[]): string[] {
  const what = houses.length === 0 ? purpose : houses.map((house) => all[house]!.name).join(", ");
  return [String(number), from.device.name, pinText(from), to.device.name, pinText(to), what];
}

/** "3 Q0"; a dash where the pin is for a data sheet to say. */
function pinText({ device, pin: { number, name } }: End): string {
  if (device.role === "house") return lampsAt({ name, number });
  if (number !== null) return `${number} ${name}`;
  return ["timer", "divider", "counter", "driver", "board"].includes(device.role) ? `- ${name}` : name;
}

function drawRemarks(drawing: Drawing, paragraphs: readonly Paragraph[], top: number): void {
  let y = top;
  if (paragraphs.length > 0) drawing.text(0, (y += TEXT.line) - 4, "To know besides", { size: TEXT.size, bold: true });
  for (const paragraph of paragraphs) {
    y += TEXT.gap;
    drawing.add("circle", { cx: 3, cy: y + TEXT.line - 8, r: 1.5, fill: INK });
    for (const line of paragraph) drawing.text(TEXT.indent, (y += TEXT.line) - 4, line, { size: TEXT.size });
  }
}

/** How many paragraphs, with their heading, fit into a height. */
function fitting(paragraphs: readonly Paragraph[], height: number): number {
  let used = TEXT.line;
  const over = paragraphs.findIndex((paragraph) => (used += TEXT.gap + paragraph.length * TEXT.line) > height);
  return over < 0 ? paragraphs.length : over;
}
