import { parseDecimal } from "./decimal.js";
import { farads } from "./electrical.js";
import { LONGEST_TEXT, type Quantity } from "./quantity.js";
import { formatTolerance, letterTolerance, toleranceOf, writtenTolerance, type Tolerance } from "./tolerance.js";

export { formatTolerance, parseTolerance, toleranceAccepted } from "./tolerance.js";

/** What is printed on a part: its value (ohm or farad) and its tolerance as shares of it, null when none is given. */
export interface PartMarking {
  value: number;
  minus: number | null;
  plus: number | null;
}

/** Below this many farads the letters B, C and D are picofarads and not percent (IEC 60062). */
const SMALL_CAPACITANCE = 10e-12;
const SMALL_LETTERS: Readonly<Record<string, number>> = { B: 0.1e-12, C: 0.25e-12, D: 0.5e-12 };
const RESISTOR_LETTERS = "ELPW";

/** A code with its letter at the decimal point (4k7, R47) or at the end (100n). */
const INFIX_CODE = /^\d*\p{L}\d+$/u;
const END_CODE = /^\d+\p{L}$/u;

/** Completes the sentence "expected ..." for a part of this quantity. */
export function partAccepted(quantity: Quantity): string {
  const examples = quantity === farads ? '"470 uF ±20 %", "100n K"' : '"4.7 kΩ ±5 %", "4k7 J"';
  return `a ${quantity.name}, with or without tolerance, such as ${examples}`;
}

/**
 * Reads the marking of a resistor or capacitor: a value, and behind it a tolerance written out ("4k7 ±5 %") or as a
 * letter of IEC 60062 ("4k7 J", "4K7J"). Null when it is not understood, when the value is not positive, or when the
 * last letter can be a tolerance as well as a unit ("4n7F": 1 % or farad).
 */
export function parsePartMarking(text: string, quantity: Quantity): PartMarking | null {
  if (text.length > LONGEST_TEXT) return null;
  const trimmed = text.trim();
  const value = quantity.parse(trimmed);
  const lettered = letteredMarking(trimmed, quantity);
  if (lettered !== null) return isAlsoValue(trimmed, quantity) ? null : lettered;
  if (value !== null) return value > 0 ? { value, minus: null, plus: null } : null;
  return writtenMarking(trimmed, quantity);
}

/** Prints a part so that `parsePartMarking` reads back exactly the same numbers; the tolerance is left out when null. */
export function formatPart(value: number, minus: number | null, plus: number | null, quantity: Quantity): string {
  const printed = quantity.format(value);
  if (minus === null || plus === null) return printed;
  if (quantity === farads && value < SMALL_CAPACITANCE && minus === plus) {
    const margin = Object.values(SMALL_LETTERS).find((farad) => farad / value === plus);
    if (margin !== undefined) return `${printed} ±${farads.format(margin)}`;
  }
  return `${printed} ${formatTolerance(minus, plus)}`;
}

/** A letter counts as a tolerance behind a code, or after a space behind a value that has its unit. */
function letteredMarking(text: string, quantity: Quantity): PartMarking | null {
  const head = text.slice(0, -1).trimEnd();
  const letter = text.slice(-1);
  const apart = head.length < text.length - 1;
  const value = quantity.parse(head);
  if (value === null || parseDecimal(head) !== null) return null;
  if (!apart && !INFIX_CODE.test(head) && (!END_CODE.test(head) || quantity.parse(text) !== null)) return null;
  return marking(value, toleranceByLetter(letter, value, quantity));
}

function isAlsoValue(text: string, quantity: Quantity): boolean {
  return quantity.parse(text.replace(/\s/g, "")) !== null;
}

function toleranceByLetter(letter: string, value: number, quantity: Quantity): Tolerance | null {
  if (quantity === farads) {
    if (RESISTOR_LETTERS.includes(letter)) return null;
    const margin = value < SMALL_CAPACITANCE ? SMALL_LETTERS[letter] : undefined;
    if (margin !== undefined) return toleranceOf(margin / value, margin / value);
  }
  return letterTolerance(letter);
}

/** Tries every place where the value could end and the tolerance begin. */
function writtenMarking(text: string, quantity: Quantity): PartMarking | null {
  for (let cut = 1; cut < text.length; cut++) {
    const tail = text.slice(cut);
    const begins = /^[±+\-−]/.test(tail) || (/^[\d.]/.test(tail) && /\s/.test(text.charAt(cut - 1)));
    if (!begins) continue;
    const value = quantity.parse(text.slice(0, cut));
    if (value === null) continue;
    const found = marking(value, writtenTolerance(tail) ?? marginTolerance(tail, value, quantity));
    if (found !== null) return found;
  }
  return null;
}

/** Capacitors of a few picofarads are sold by a margin in picofarads: "4.7 pF ±0.5 pF". */
function marginTolerance(text: string, value: number, quantity: Quantity): Tolerance | null {
  if (quantity !== farads || !text.startsWith("±") || !text.endsWith("F")) return null;
  const margin = farads.parse(text.slice(1));
  return margin === null ? null : toleranceOf(margin / value, margin / value);
}

function marking(value: number, tolerance: Tolerance | null): PartMarking | null {
  return tolerance === null || !(value > 0) ? null : { value, ...tolerance };
}
