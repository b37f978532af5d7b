import type { End, Netlist, Wire } from "../../sim/netlist/index.js";
import { GUIDE, INK } from "../pictures/colours.js";
import { lines, TEXT_SIZE, type Drawing } from "../pictures/drawing.js";
import { textWidth } from "../pictures/text.js";
import { AREA, type DrawContent } from "./sheet.js";
import type { Remarks } from "./wiring-remarks.js";

/** All wires in a table. */

const ROW = 15;
const COLUMNS = [
  { heading: "wire", x: 0 },
  { heading: "from", x: 40 },
  { heading: "pin", x: 118 },
  { heading: "to", x: 205 },
  { heading: "pin", x: 358 },
  { heading: "house, or what for", x: 452 },
] as const;
const GAP = 8;

/** The table, with what the houses are called, and the remarks that are left, on as many sheets as they need. */
export function tableSheets({ wires }: Netlist, houses: readonly string[], remarks: Remarks): DrawContent[] {
  const most = Math.floor(AREA.height / ROW) - 1;
  const sheets: DrawContent[] = [];
  for (let i = 0; i < wires.length; i += most) {
    const rows = wires.slice(i, i + most);
    const below = i + most < wires.length ? null : remarks.below(AREA.y + (rows.length + 1) * ROW + 14);
    sheets.push((drawing) => {
      drawRows(drawing, rows, houses);
      below?.(drawing);
    });
  }
  while (remarks.left > 0) sheets.push(remarks.below(AREA.y + 4));
  return sheets;
}

function drawRows(drawing: Drawing, wires: readonly Wire[], houses: readonly string[]): void {
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

function cellsOf({ number, from, to, purpose, houses }: Wire, all: readonly string[]): string[] {
  const what = houses.length === 0 ? purpose : namesWithin(houses.map((house) => all[house]!), AREA.width - COLUMNS.at(-1)!.x);
  return [String(number), from.device.name, pinText(from), to.device.name, pinText(to), what];
}

/** As many names as there is room for, and how many more there are. */
function namesWithin(names: readonly string[], room: number): string {
  for (let count = names.length; count > 1; count--) {
    const more = names.length - count;
    const text = names.slice(0, count).join(", ") + (more > 0 ? `, and ${more} more` : "");
    if (text.length < 4 * room && textWidth(text, TEXT_SIZE) <= room) return text;
  }
  return names.length > 1 ? `${names[0]!}, and ${names.length - 1} more` : names[0]!;
}

/** "3 Q0"; the name alone where there is no number. */
function pinText({ device, pin: { number, name } }: End): string {
  if (device.role === "house") return name;
  return number === null ? name : `${number} ${name}`;
}
