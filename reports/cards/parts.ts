import { boardBill, type BillItem } from "../../sim/bill/index.js";
import { GUIDE, INK } from "../pictures/colours.js";
import { lines, TEXT_SIZE, type Drawing } from "../pictures/drawing.js";
import { wrapped } from "../pictures/text.js";
import { AREA, cardSheets, type DrawContent, type MakeCard } from "./sheet.js";

/** The parts card of a board: what to buy for it, by the names of its wiring card. */

const LINE = 14;
const PAD = 5;
const COLUMNS = [
  { heading: "count", x: 0 },
  { heading: "part", x: 44 },
  { heading: "value", x: 116 },
  { heading: "rating", x: 282 },
  { heading: "on the wiring card", x: 428 },
] as const;
const GAP = 8;

/** The parts card of board `b`. */
export const partsCard: MakeCard = (input, b) => {
  const { id } = input.scenario.boards[b]!;
  const items = boardBill(input.scenario, b);
  const rows = items.map(rowOf);
  return cardSheets(
    input,
    {
      name: `parts-${id}`,
      heading: `Parts card: board ${id}`,
      description: `What to buy for board ${id}: ${items.length} kinds of part, with value, rating, count, and the names they have on ` +
        `the wiring card.`,
    },
    sheetsOf(rows),
  );
};

/** The cells of a row, each in as many lines as it needs. */
type Row = readonly (readonly string[])[];

function rowOf({ what, value, rating, count, references }: BillItem): Row {
  const names = [...new Set(Object.values(references).flat())].join(", ");
  const cells = [what === "wire" ? `${count} m` : String(count), what, value, rating ?? "", names];
  return cells.map((text, k) => wrapped(text, roomOf(k), TEXT_SIZE));
}

const roomOf = (k: number): number => (COLUMNS[k + 1]?.x ?? AREA.width + GAP) - COLUMNS[k]!.x - GAP;
const heightOf = (row: Row): number => Math.max(...row.map(({ length }) => length)) * LINE + PAD;

function sheetsOf(rows: readonly Row[]): DrawContent[] {
  const sheets: Row[][] = [[]];
  let left = AREA.height - LINE - PAD;
  for (const row of rows) {
    if (heightOf(row) > left && sheets.at(-1)!.length > 0) {
      sheets.push([]);
      left = AREA.height - LINE - PAD;
    }
    sheets.at(-1)!.push(row);
    left -= heightOf(row);
  }
  return sheets.map((sheet) => (drawing) => drawRows(drawing, sheet));
}

function drawRows(drawing: Drawing, rows: readonly Row[]): void {
  COLUMNS.forEach(({ heading, x }) => drawing.text(x, AREA.y + 11, heading, { bold: true }));
  let y = AREA.y + LINE + PAD;
  drawing.path(lines([[0, y, AREA.width, y]]), { stroke: INK, "stroke-width": 1 });
  for (const row of rows) {
    row.forEach((cell, k) => cell.forEach((text, i) => drawing.text(COLUMNS[k]!.x, y + 12 + i * LINE, text, { bold: k === 0, room: roomOf(k) })));
    y += heightOf(row);
    drawing.path(lines([[0, y, AREA.width, y]]), { stroke: GUIDE, "stroke-width": 0.75 });
  }
}
