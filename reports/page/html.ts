import { printable } from "../pictures/text.js";

/** Markup, and what is put into it: text, other markup, an element. */
export class Html {
  constructor(
    readonly parts: readonly string[],
    readonly inserts: readonly Insert[],
  ) {}

  /** As text; what was put in is escaped, so that whatever a file says stays text. */
  get markup(): string {
    return this.parts.reduce((markup, part, i) => markup + written(this.inserts[i - 1]!) + part);
  }
}

export type Insert = string | number | Html | readonly Html[] | Element;

/** Markup with values put in. */
export function html(parts: TemplateStringsArray, ...inserts: readonly Insert[]): Html {
  return new Html(parts, inserts);
}

/** Markup made by a serialiser, which has escaped what is in it. */
export function trusted(markup: string): Html {
  return new Html([markup], []);
}

function written(value: Insert): string {
  if (value instanceof Html) return value.markup;
  if (isList(value)) return value.map(({ markup }) => markup).join("");
  if (typeof value === "object") throw new TypeError("an element stands in a page that runs; in a text it must be serialised");
  return escaped(String(value));
}

export function isList(value: Insert): value is readonly Html[] {
  return Array.isArray(value);
}

const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };

function escaped(text: string): string {
  return printable(text).replace(/[&<>"']/g, (sign) => ENTITIES[sign]!);
}
