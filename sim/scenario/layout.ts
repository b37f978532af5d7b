/** How one line of a block of YAML is built, as far as its place among the others goes. Indices and columns count from 0. */
interface Line {
  readonly index: number;
  readonly column: number;
  /** Column of what stands behind the dashes of list entries; that of the line where there are none. */
  readonly inner: number;
  /** Its key; null where it has none. */
  readonly key: string | null;
  /** Whether its value stands in the lines below. */
  readonly opens: boolean;
  /** Whether it is a mapping or list in brackets and nothing else. */
  readonly flow: boolean;
  /** Closing brackets or quote that are missing at its end. */
  readonly unclosed: string;
}

/** A line that does not go with those above it. */
export interface Misfit {
  readonly index: number;
  /** Columns in which it could begin. */
  readonly columns: readonly number[];
  /** What is missing at its end, if that is what is wrong. */
  readonly unclosed: string;
  readonly hasKey: boolean;
}

const CLOSING: Readonly<Partial<Record<string, string>>> = { "[": "]", "{": "}" };

/**
 * The first line of a text that does not stand in the column of a mapping or list which is open there. Looks at columns,
 * brackets and quotes alone, and so finds the line where the parser, which goes on, names those that suffer from it.
 */
export function firstMisfit(text: string): Misfit | null {
  const lines = outline(text);
  const open: number[] = [];
  let above: Line | null = null;
  for (const line of lines) {
    const deeper: boolean = above?.opens ?? true;
    const top = open.at(-1) ?? -1;
    const enters: boolean = deeper && (line.column > top || (line.column === top && line.inner > line.column && above!.inner === above!.column));
    if (enters) open.push(line.column);
    const columns = [...open];
    while (!enters && open.length > 0 && open.at(-1)! > line.column) open.pop();
    const fits = open.at(-1) === line.column;
    if (!fits || line.unclosed !== "" || (line.key === null && line.inner === line.column && !line.flow)) {
      return { index: line.index, columns, unclosed: fits ? line.unclosed : "", hasKey: line.key !== null };
    }
    if (line.inner > line.column && line.key !== null) open.push(line.inner);
    above = line;
  }
  return null;
}

/** The line that holds what begins in a column of a later line: the nearest above that begins further left. */
export function holderOf(text: string, index: number, column: number): { readonly key: string; readonly index: number } | null {
  const holder = outline(text).findLast((line) => line.index < index && line.column < column);
  return holder === undefined || holder.key === null ? null : { key: holder.key, index: holder.index };
}

/** The lines that hold something: neither empty, nor a comment, nor inside brackets that an earlier one opened. */
export function outline(text: string): Line[] {
  const found: Line[] = [];
  let inside = "";
  const rows = text.split(/\r\n|\n/);
  rows.forEach((row, index) => {
    const column = row.length - row.trimStart().length;
    if (row.trim() === "" || row[column] === "#" || /^(---|\.\.\.|%|\s*[?:](\s|$))/.test(row)) return;
    const within = inside !== "";
    const { closers, plain } = scan(row, inside);
    inside = closers;
    if (within) return;
    const dashes = /^(?:-\s+)*/.exec(row.slice(column))![0].length;
    const goesOn = closers !== "" && bracketsGoOn(closers, column, rows.slice(index + 1).find((other) => other.trim() !== "") ?? "");
    const key = /^((?:"[^"]*"|'[^']*'|[^:#[\]{}]|:(?=\S))+):(?=\s|$)/.exec(plain.slice(column + dashes))?.[1]?.trim() ?? null;
    found.push({
      index,
      column,
      inner: column + (plain.slice(column).trim() === "-" ? 1 : dashes),
      key,
      opens: /:$|^-$/.test(plain.trim()),
      flow: CLOSING[row[column]!] !== undefined,
      unclosed: closers !== "" && !goesOn ? closers : "",
    });
    if (!goesOn) inside = "";
  });
  return found;
}

/** Whether brackets go on in the next row: one that is indented further, or closes them. */
function bracketsGoOn(closers: string, column: number, next: string): boolean {
  return !/["']/.test(closers) && (next.search(/\S/) > column || /^[\]}]/.test(next.trim()));
}

/** Reads a row of text inside some brackets: the closers that are due at its end, innermost first, and the row without its comment. */
function scan(row: string, inside: string): { closers: string; plain: string } {
  let closers = inside;
  let quote = "";
  let before = ":";
  for (let i = 0; i < row.length; i++) {
    const sign = row[i]!;
    if (quote !== "") {
      if (sign === "\\" && quote === '"') i++;
      else if (sign === quote) quote = "";
    } else if (sign === "#" && (row[i - 1] ?? " ") <= " ") {
      return { closers, plain: row.slice(0, i) };
    } else if ((sign === '"' || sign === "'") && ":,[{-".includes(before)) quote = sign;
    else if (CLOSING[sign] !== undefined && (closers !== "" || before === ":" || before === "-")) closers = CLOSING[sign] + closers;
    else if (sign === closers[0]) closers = closers.slice(1);
    if (sign > " ") before = sign;
  }
  return { closers: quote + closers, plain: row };
}
