import { InputError } from "../errors.js";
import type { CapacitorType } from "../parts/leakage.js";
import { knownWords } from "../scenario/problems.js";
import { parsePartMarking } from "../units/part.js";
import { farads, ohms } from "../units/quantities.js";
import { LONGEST_TEXT } from "../units/quantity.js";
import { ofType, trimmerOf, type Shelf, type ResistorType, type ShelfPart, type ShelfResistor, type ShelfTrimmer } from "./shelf.js";

/** Parts that the builder has, read from a file. */
export interface Stock extends Shelf {
  /** What lines without a type were taken for: a sentence each. */
  readonly taken: readonly string[];
}

/** One line of a stock file that is not understood. */
export interface StockProblem {
  /** From 1. */
  readonly line: number;
  readonly message: string;
}

/** All problems of a stock file; the message has one line for each. */
export class StockError extends InputError {
  override readonly name = "StockError";

  constructor(
    readonly file: string,
    readonly problems: readonly StockProblem[],
  ) {
    super(problems.map(({ line, message }) => `${file}:${line}: ${message}`).join("\n"));
  }
}

/** Larger parts make no timer: the board conducts as well as the resistor, and no such capacitor is sold. */
const MOST_OHMS = 10e6;
const MOST_FARADS = 0.1;

/** Longer lists than a drawer holds would only make the search slow. */
const MOST_PARTS = 300;

const RESISTOR_TYPES = ["carbon", "metal"] as const;
const CAPACITOR_TYPES = ["electrolytic", "low-leakage", "film", "tantalum"] as const;
const TYPES: readonly string[] = [...RESISTOR_TYPES, ...CAPACITOR_TYPES];

const accepted = 'expected a part such as "10k", "100k 1 % metal", "470 uF ±20 % electrolytic" or "trimmer 500k ±20 %"';

/**
 * Reads a stock file, one part a line: a fixed resistor with its type (carbon, metal), a capacitor with its type
 * (electrolytic, low-leakage, film, tantalum), or `trimmer` and its value, and behind it `end` and what the end of its track leaves, where that is known. A tolerance stands behind the value; where there
 * is none, that of the type counts. A line without a type is taken for the plainest part of its value (see `plainType`), which
 * the stock says. How many there are of a part is not told: one line stands for as many as a timer needs.
 * Blank lines, and whatever follows a #, are passed over. `file` is its name, for messages. Throws {@link StockError} with
 * every line that is not understood; a list without resistor, trimmer or capacitor makes no timer, and is refused too.
 * Ohms, farads.
 *
 * @example
 * ```ts
 * import { parseStock, planParts } from "lampdrift";
 *
 * const stock = parseStock("100k 1 % metal\n47k 5 % carbon\n470 uF ±20 % electrolytic\ntrimmer 500k ±20 %", "drawer.txt");
 * const { choices, nearMisses } = planParts({ range: { from: 30, to: 60 }, stock });
 * console.log(choices.length, nearMisses.length > 0); // 0 true
 * ```
 */
export function parseStock(text: string, file: string): Stock {
  const problems: StockProblem[] = [];
  const found = { resistors: [] as ShelfResistor[], trimmers: [] as ShelfTrimmer[], capacitors: [] as Shelf["capacitors"][number][] };
  const untyped = new Map<string, string[]>();
  const lines = text.split(/\r\n|\r|\n/);
  lines.forEach((raw, index) => {
    const written = raw.replace(/#.*/s, "").trim();
    if (written === "") return;
    const type = plainType(written);
    if (type !== null) untyped.set(type, [...(untyped.get(type) ?? []), written]);
    const message = readLine(type === null ? written : `${written} ${type}`, found);
    if (message !== null) problems.push({ line: index + 1, message: `found ${quoted(written)}; ${message}` });
  });
  if (problems.length === 0) {
    for (const [kind, parts] of Object.entries(found)) {
      if (parts.length === 0) problems.push({ line: lines.length, message: `there are no ${kind} in this file; ${accepted}` });
      if (parts.length > MOST_PARTS) problems.push({ line: lines.length, message: `more than ${MOST_PARTS} ${kind}; keep the ones ` +
        "for timers" });
    }
  }
  if (problems.length > 0) throw new StockError(file, problems);
  const taken = [...untyped].map(([type, parts]) => {
    const all = [...new Set(parts)].join(", ");
    return `Taken for ${type}, since the stock file gives no type: ${all}.`;
  });
  return { resistors: distinct(found.resistors), trimmers: distinct(found.trimmers), capacitors: distinct(found.capacitors), taken };
}

/** A tolerance up to here is that of a metal film resistor; carbon film is sold with 5 % (common practice, no source). */
const METAL_TOLERANCE = 0.02;
/** Untyped capacitors from here on are electrolytic, which leak most; smaller ones are film (common practice, no source). */
const ELECTROLYTIC_FROM = 1e-6;

/**
 * The type of a line that names none: the plainest part of its value, so that a better one does no harm. Null where the line
 * names a type, is a trimmer, or is no part.
 */
function plainType(written: string): ResistorType | CapacitorType | null {
  const resistor = parsePartMarking(written, ohms);
  const capacitor = parsePartMarking(written, farads);
  // "2m2" is read as milliohms too, of which no timer is made
  if (resistor !== null && (capacitor === null || resistor.value >= 1)) {
    return resistor.plus !== null && resistor.plus <= METAL_TOLERANCE ? "metal" : "carbon";
  }
  return capacitor === null ? null : capacitor.value >= ELECTROLYTIC_FROM ? "electrolytic" : "film";
}

/** Adds the part of one line to what was found; else says what was expected. */
function readLine(
  written: string,
  found: { resistors: ShelfResistor[]; trimmers: ShelfTrimmer[]; capacitors: Shelf["capacitors"][number][] },
): string | null {
  if (written.length > LONGEST_TEXT) return accepted;
  const [, trimmer, end] = /^trimmer\s+(.+?)(?:\s+end\s+(.+))?$/s.exec(written) ?? [];
  if (trimmer !== undefined) {
    const part = marked(trimmer, ohms, trimmerOf);
    if (part === null) return `behind "trimmer" expected a resistance, with or without tolerance, such as "500k ±20 %"`;
    const left = end === undefined ? null : ohms.parse(end);
    if (end !== undefined && (left === null || left >= part.value)) {
      return `behind "end" expected what the end of the track leaves, less than the whole of it, such as "end 20 Ω"`;
    }
    found.trimmers.push({ ...part, end: left });
    return tooLarge(part, ohms, MOST_OHMS);
  }
  const [, marking = written, word = ""] = /^(.*\S)\s+([\p{L}-]{3,})$/su.exec(written) ?? [];
  if (!TYPES.includes(word)) {
    return word === "" ? accepted : `${knownWords(word, TYPES, "types")}; ${accepted}`;
  }
  const type = word as CapacitorType | ResistorType;
  if (isCapacitorType(type)) {
    const part = marked(marking, farads, (value) => ofType(value, type));
    if (part === null) return `before ${JSON.stringify(word)} expected a capacitance, with or without tolerance, such as "470 uF ±20 %"`;
    found.capacitors.push({ ...part, type });
    return tooLarge(part, farads, MOST_FARADS);
  }
  const part = marked(marking, ohms, (value) => ofType(value, type));
  if (part === null) return `before ${JSON.stringify(word)} expected a resistance, with or without tolerance, such as "4k7 1 %"`;
  found.resistors.push({ ...part, type });
  return tooLarge(part, ohms, MOST_OHMS);
}

function tooLarge({ value }: ShelfPart, quantity: typeof ohms, most: number): string | null {
  return value > most ? `expected a ${quantity.name} of at most ${quantity.format(most)}: no timer works with more` : null;
}

function isCapacitorType(type: CapacitorType | ResistorType): type is CapacitorType {
  return (CAPACITOR_TYPES as readonly string[]).includes(type);
}

/** A part as marked; what the marking does not say, its kind does. */
function marked<P extends ShelfPart>(text: string, quantity: typeof ohms, usual: (value: number) => P): P | null {
  const marking = parsePartMarking(text, quantity);
  if (marking === null) return null;
  const part = usual(marking.value);
  return marking.minus === null || marking.plus === null ? part : { ...part, minus: marking.minus, plus: marking.plus };
}

function distinct<P extends ShelfPart>(parts: readonly P[]): P[] {
  return [...new Map(parts.map((part) => [JSON.stringify(part), part])).values()].sort((a, b) => a.value - b.value);
}

function quoted(text: string): string {
  return JSON.stringify(text.length <= 60 ? text : `${text.slice(0, 57)}…`);
}
