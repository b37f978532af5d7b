import { columnsOf } from "./columns.js";

/** Units that stay on the line of their number. */
const UNITS = "(?:%|ms|µs|s|min|h|d|[kMmµn]?[AVWΩ]|[µnp]?F|K|°C|mm|m)";
const NO_MORE = "(?![\\p{L}\\p{N}])";
/** A space at which a line may end: not between a number and its unit, nor within "2 min 50 s". */
const GAP = new RegExp(` (?!(?<=\\d )${UNITS}${NO_MORE})(?!(?<=\\d (?:min|h|d) )\\d+ (?:s|min|h)${NO_MORE})`, "u");

/** Columns that the longest word of a text takes. */
export function longestWord(text: string): number {
  return Math.max(0, ...text.split(GAP).map((word) => columnsOf(word)));
}

/**
 * One line of text as lines of at most `width` columns, broken between words, and, unless words stay whole, within a word
 * that is longer than a line; lines after the first begin with `hang` spaces.
 */
export function wrapped(text: string, width: number, hang = 0, long: "broken words" | "whole words" = "broken words"): string[] {
  if (columnsOf(text) <= width) return [text];
  const lines: string[] = [];
  const indent = " ".repeat(Math.min(hang, Math.floor(width / 2)));
  let line: string | null = null;
  for (const word of text.split(GAP)) {
    const longer: string = line === null ? word : `${line} ${word}`;
    if (columnsOf(longer) <= width) {
      line = longer;
      continue;
    }
    if (line !== null && line.trim() !== "") {
      lines.push(line.trimEnd());
      line = indent + word;
    } else line = longer;
    while (long === "broken words" && columnsOf(line) > width) {
      const [first, rest] = brokenAt(line, width);
      lines.push(first);
      line = indent + rest;
    }
  }
  return line === null ? lines : [...lines, line.trimEnd()];
}

/** A line of too long a word, and what is left of it; characters that are seen as one stay together. */
function brokenAt(text: string, width: number): [string, string] {
  let taken = "";
  for (const { segment } of new Intl.Segmenter().segment(text)) {
    if (taken !== "" && columnsOf(taken + segment) > width) break;
    taken += segment;
  }
  return [taken, text.slice(taken.length)];
}
