import { visible } from "../output/visible.js";
import { columnsOf } from "./columns.js";
import { longestWord, wrapped } from "./wrap.js";

/** A table that is drawn once it is known how wide it may be. */
export interface TextTable {
  readonly headings: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

interface Column {
  readonly right: boolean;
  readonly cells: readonly string[];
  readonly natural: number;
  /** Columns that its longest word takes. */
  readonly least: number;
}

/** Spaces between two columns. */
const GAP = 2;
/** Words longer than this may be broken, so that one long name does not split a table. */
const LONG_WORD = 24;

/** A heading, a line, rows. Columns whose heading starts with ">" are right-aligned. */
export function table(headings: readonly string[], rows: readonly (readonly string[])[]): TextTable {
  return { headings, rows: rows.map((row) => row.map(visible)) };
}

/**
 * Draws a table in at most `width` columns: cells are wrapped where it is too wide, and where even that does not do, the
 * columns stand in several tables below each other, each beginning with the first column.
 */
export function drawnTable({ headings, rows }: TextTable, width: number): string {
  const columns = headings.map((heading, i): Column => {
    const right = heading.startsWith(">");
    const cells = [heading.replace(/^>/, ""), ...rows.map((row) => row[i] ?? "")];
    const natural = Math.max(...cells.map((cell) => columnsOf(cell)));
    return { right, cells, natural, least: Math.min(LONG_WORD, Math.max(1, ...cells.map(longestWord))) };
  });
  return partsOf(columns, width)
    .map((part) => drawn(part, widthsOf(part, width)))
    .join("\n\n");
}

/** The columns in as few tables as the width allows. */
function partsOf(columns: readonly Column[], width: number): Column[][] {
  const [first, ...others] = columns;
  if (first === undefined) return [];
  const parts: Column[][] = [[first]];
  const least = (part: readonly Column[]): number => part.reduce((sum, column) => sum + column.least + GAP, -GAP);
  for (const column of others) {
    const part = parts.at(-1)!;
    if (part.length === 1 || least([...part, column]) <= width) part.push(column);
    else parts.push([first, column]);
  }
  return parts;
}

/** Widths of columns that fit together: what is too much is taken from the widest. */
function widthsOf(columns: readonly Column[], width: number): number[] {
  const room = Math.max(columns.length, width - GAP * (columns.length - 1));
  const capped = (cap: number, floor: (column: Column) => number): number[] =>
    columns.map((column) => Math.max(Math.min(floor(column), column.natural), Math.min(column.natural, cap)));
  const fits = (widths: readonly number[]): boolean => widths.reduce((sum, one) => sum + one, 0) <= room;
  // words are broken only where there is no other way
  for (const floor of [(column: Column) => column.least, () => 1]) {
    for (let cap = Math.max(...columns.map(({ natural }) => natural)); cap >= 1; cap--) {
      const widths = capped(cap, floor);
      if (fits(widths)) return widths;
    }
  }
  return columns.map(() => 1);
}

function drawn(columns: readonly Column[], widths: readonly number[]): string {
  const cells = columns.map((column, i) => column.cells.map((cell) => wrapped(cell, widths[i]!)));
  const taken = cells.map((column) => Math.max(...column.flat().map(columnsOf)));
  const rows = columns[0]!.cells.map((_, row) => {
    const high = Math.max(...cells.map((column) => column[row]!.length));
    return Array.from({ length: high }, (_line, n) =>
      columns.map(({ right }, i) => padded(cells[i]![row]![n] ?? "", taken[i]!, right)).join(" ".repeat(GAP)).trimEnd());
  });
  return rows.flat().filter((line) => line !== "").join("\n");
}

function padded(text: string, width: number, right: boolean): string {
  const space = " ".repeat(width - columnsOf(text));
  return right ? space + text : text + space;
}
