import stringWidth from "string-width";

/** Signs that take a column each. To see that no others are there is quick; to be ready for all signs takes longer than a whole run. */
const PLAIN = /^[ -~°µ×Ω–—‘’“”…≤≥]*$/;

/** Columns that a text takes on a terminal. */
export function columnsOf(text: string): number {
  return PLAIN.test(text) ? text.length : stringWidth(text);
}
