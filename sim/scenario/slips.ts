import { firstMisfit, holderOf, outline, type Misfit } from "./layout.js";

/** A slip of the keyboard that makes a text something else than what was meant. Line and column count from 1. */
export interface Slip {
  readonly line: number;
  readonly column: number;
  readonly message: string;
}

interface Mended {
  readonly text: string;
  readonly slips: readonly Slip[];
}

interface Edit {
  readonly text: string;
  readonly slip: Slip;
  /** How many other lines begin in the column that it moves a line to. */
  readonly company: number;
}

/** What is wrong with a text, a line each; null where it cannot be read at all. */
type Judge = (text: string) => readonly string[] | null;

/** Larger files, and more slips than these, are told by the first thing that is wrong with them. */
const LENGTH_LIMIT = 60_000;
const SLIPS_LIMIT = 12;
/** So many readings of the text may be tried for one slip. */
const TRIES_LIMIT = 30;
/** A scenario is not nested deeper than this. */
const CHAIN_LIMIT = 7;

/**
 * A text that cannot be read, with each line put right that is in the wrong column or lacks a sign, and what was wrong
 * with these; what else is wrong can then be told without the consequences. The text as it was where nothing is found.
 */
export function mendedLayout(text: string, judge: Judge): Mended {
  const slips: Slip[] = [];
  if (text.length > LENGTH_LIMIT) return { text, slips };
  let now = withoutTabs(text, slips);
  for (;;) {
    const misfit = firstMisfit(now);
    if (misfit === null || slips.length >= SLIPS_LIMIT) return { text: now, slips };
    const edits = [...signsAt(now, misfit), ...movesNear(now, misfit.index)];
    // an edit that mends this slip may still meet others further down
    const reach = edits.map((edit) => ({ edit, to: firstMisfit(edit.text)?.index ?? Infinity }));
    const furthest = Math.max(...reach.map(({ to }) => to));
    if (furthest <= misfit.index) return { text: now, slips };
    const best = reach.filter(({ to }) => to === furthest).map(({ edit }) => edit);
    const chosen = leastWrong(best, (one) => judge(one.split("\n").slice(0, furthest).join("\n")));
    if (chosen === undefined) return { text: now, slips };
    slips.push(chosen.slip);
    now = chosen.text;
  }
}

/**
 * A text that means something else than it should since a line begins in the wrong column: with that line put right.
 * Null where no line near those that have problems leaves fewer of them when it is moved, and no other ones.
 */
export function mendedMeaning(text: string, lines: readonly number[], judge: Judge): Mended | null {
  if (text.length > LENGTH_LIMIT) return null;
  const edits = lines.flatMap((line) => movesNear(text, line - 1)).filter((edit) => firstMisfit(edit.text) === null);
  if (edits.length === 0) return null;
  const before = judge(text) ?? [];
  const best = leastWrong(edits, (one) => {
    const after = judge(one);
    return after !== null && after.every((problem) => before.includes(problem)) ? after : null;
  });
  return best !== undefined && (before.length === 0 || judge(best.text)!.length < before.length) ? { text: best.text, slips: [best.slip] } : null;
}

function leastWrong(edits: readonly Edit[], judge: Judge): Edit | undefined {
  const judged = edits.slice(0, TRIES_LIMIT).map((edit) => ({ edit, problems: judge(edit.text)?.length ?? Infinity }));
  // of two lines that fit together in either column, the one with fewer others is the one that slipped
  judged.sort((a, b) => (a.problems === b.problems ? b.edit.company - a.edit.company : a.problems - b.problems));
  return Number.isFinite(judged[0]?.problems) ? judged[0]!.edit : undefined;
}

/** Tabs at the beginning of lines as spaces, so many that the lines fit together if that can be; told once. */
function withoutTabs(text: string, slips: Slip[]): string {
  const rows = text.split("\n");
  const tabbed = rows.flatMap((row, i) => (/^ *\t\s*[^\s#]/.test(row) ? [i + 1] : []));
  if (tabbed.length === 0) return text;
  const others = `${tabbed.slice(1, 6).join(", ")}${tabbed.length > 6 ? ", …" : ""}`;
  const more = tabbed.length === 1 ? "" : `, and of ${tabbed.length - 1} more (${others})`;
  slips.push({ line: tabbed[0]!, column: 1, message: `a tab stands at the beginning of this line${more}; indent with spaces` });
  const withWidth = (width: number): string =>
    rows.map((row) => row.replace(/^[ \t]+/, (white) => white.replaceAll("\t", " ".repeat(width)))).join("\n");
  const spaced = [2, 4, 6, 8].map(withWidth);
  return spaced.find((one) => firstMisfit(one) === null) ?? spaced[0]!;
}

/** A line with the sign that it lacks: a colon, a space behind one, a closing bracket or quote. */
function signsAt(text: string, { index, unclosed, hasKey }: Misfit): Edit[] {
  const rows = text.split("\n");
  const row = rows[index]!.trimEnd();
  const edit = (changed: string, message: string): Edit => ({
    text: rows.with(index, changed).join("\n"),
    slip: { line: index + 1, column: row.search(/\S/) + 1, message },
    company: Infinity,
  });
  if (unclosed !== "") {
    return [edit(row + unclosed, `something that begins in this line has no end; expected ${unclosed} behind it`)];
  }
  if (hasKey) return [];
  const glued = row.replace(/^(\s*(?:- +)?[^\s:]+):(?=\S)/, "$1: ");
  if (glued !== row) return [edit(glued, "a space is missing behind the colon")];
  const [, start, rest] = /^(\s*(?:- +)?[^\s:#]+)(.*)$/.exec(row) ?? [];
  if (start === undefined) return [];
  return [edit(`${start}:${rest}`, `there is no colon in this line; expected a key, a colon and a space, as in "${start.trim()}: …"`)];
}

/** The lines about one, each moved to the columns in which it could begin: alone, or with all that hangs on it. */
function movesNear(text: string, index: number): Edit[] {
  const rows = text.split("\n");
  const lines = outline(text);
  const at = lines.findIndex((line) => line.index >= index);
  if (at < 0) return [];
  const suspects = new Set([at, ...chainTo(lines, at).flatMap((i) => [i, i - 1, i + 1])]);
  return [...suspects].flatMap((i) => {
    const line = lines[i];
    if (line === undefined) return [];
    const end = lines.findIndex((other, j) => j > i && other.column <= line.column);
    const last = end < 0 ? rows.length : lines[end]!.index;
    const around = [...chainTo(lines, i - 1), i + 1].flatMap((j) => lines[j]?.column ?? []);
    const columns = [...new Set([(lines[i - 1]?.column ?? -2) + 2, ...around])].filter((column) => column !== line.column);
    columns.sort((a, b) => Math.abs(a - line.column) - Math.abs(b - line.column));
    return columns.flatMap((column) => {
      const indented = (row: string): string => " ".repeat(Math.max(0, row.search(/\S/) + column - line.column)) + row.trimStart();
      const moved = (row: string, j: number, to: number): string => (j < line.index || j >= to || row.trim() === "" ? row : indented(row));
      const slip = slipOf(text, line.index, line.column, column);
      const company = lines.filter((other) => other.column === column).length;
      const ends = last > line.index + 1 ? [line.index + 1, last] : [line.index + 1];
      return ends.map((to) => ({ text: rows.map((row, j) => moved(row, j, to)).join("\n"), slip, company }));
    });
  });
}

/** A line and those above it that it could hang on, from below: each begins further left than the one before. */
function chainTo(lines: readonly { readonly column: number }[], index: number): number[] {
  const chain: number[] = [];
  for (let i = index; i >= 0 && chain.length < CHAIN_LIMIT; i--) {
    if (chain.length === 0 || lines[i]!.column < lines[chain.at(-1)!]!.column) chain.push(i);
  }
  return chain;
}

function slipOf(text: string, index: number, column: number, meant: number): Slip {
  const holder = holderOf(text, index, meant);
  const where = holder === null ? "where the keys of the file begin" : `as a part of "${holder.key}" in line ${holder.index + 1}`;
  const message = `this line begins in column ${column + 1}; expected column ${meant + 1}, ${where}`;
  return { line: index + 1, column: column + 1, message };
}
