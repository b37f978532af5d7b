import { printable } from "../pictures/text.js";

/** Markup that is safe to put into a page. */
export class Html {
  constructor(readonly markup: string) {}
}

type Insert = string | number | Html | readonly Html[];

/** Markup with values put in; text is escaped, so that whatever a file says stays text. */
export function html(parts: TemplateStringsArray, ...inserts: readonly Insert[]): Html {
  return new Html(parts.reduce((markup, part, i) => markup + insert(inserts[i - 1]!) + part));
}

/** Markup made by a serialiser, which has escaped what is in it. */
export function trusted(markup: string): Html {
  return new Html(markup);
}

function insert(value: Insert): string {
  if (value instanceof Html) return value.markup;
  if (typeof value === "object") return value.map(({ markup }) => markup).join("");
  return escaped(String(value));
}

const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };

function escaped(text: string): string {
  return printable(text).replace(/[&<>"']/g, (sign) => ENTITIES[sign]!);
}
