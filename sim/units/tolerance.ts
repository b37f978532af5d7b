import { decimalOf, decimalText, NUMBER, parseDecimal, shift } from "./decimal.js";
import { LONGEST_TEXT } from "./quantity.js";
import { ratio } from "./relative.js";

/** Limits below and above the nominal value, as shares of it; neither is negative, and `minus` is below 1. */
export interface Tolerance {
  readonly minus: number;
  readonly plus: number;
}

/** Completes the sentence "expected ...". */
export const toleranceAccepted = 'a tolerance such as "±20 %", "+80/-20 %", a letter such as "K" or a share such as 0.2';

/** Tolerance letters of IEC 60062, in percent: both ways, or below and above. */
const LETTERS: Readonly<Record<string, readonly [string, string]>> = {
  E: ["0.005", "0.005"], L: ["0.01", "0.01"], P: ["0.02", "0.02"], W: ["0.05", "0.05"],
  B: ["0.1", "0.1"], C: ["0.25", "0.25"], D: ["0.5", "0.5"], F: ["1", "1"], G: ["2", "2"],
  J: ["5", "5"], K: ["10", "10"], M: ["20", "20"], N: ["30", "30"],
  Q: ["10", "30"], S: ["20", "50"], T: ["10", "50"], Z: ["20", "80"],
};

const BOTH_WAYS = new RegExp(`^(?:±|\\+/?[-−])?\\s*(${NUMBER}\\s*(?:%|‰|ppm))$`);
const UP_DOWN = new RegExp(`^\\+\\s*(${NUMBER})\\s*(?:%\\s*)?(?:/\\s*)?[-−]\\s*(${NUMBER})\\s*%$`);
const DOWN_UP = new RegExp(`^[-−]\\s*(${NUMBER})\\s*(?:%\\s*)?(?:/\\s*)?\\+\\s*(${NUMBER})\\s*%$`);

/** Reads a tolerance: "20 %", "±20 %", "+80/-20 %", a letter of IEC 60062, or a bare share; null when it is none. */
export function parseTolerance(text: string | number): Tolerance | null {
  const trimmed = String(text).trim();
  const share = ratio.parse(trimmed);
  if (share !== null && parseDecimal(trimmed) !== null) return toleranceOf(share, share);
  return letterTolerance(trimmed) ?? writtenTolerance(trimmed);
}

/** The meaning of a tolerance letter, as a share of any value; null when it has none. */
export function letterTolerance(letter: string): Tolerance | null {
  const limits = Object.hasOwn(LETTERS, letter) ? LETTERS[letter] : undefined;
  return limits === undefined ? null : inPercent(...limits);
}

/** Reads a tolerance that is written out with its unit; null when it is none. */
export function writtenTolerance(text: string): Tolerance | null {
  if (text.length > LONGEST_TEXT) return null;
  const both = BOTH_WAYS.exec(text)?.[1];
  if (both !== undefined) {
    const share = ratio.parse(both);
    return share === null ? null : toleranceOf(share, share);
  }
  const upDown = UP_DOWN.exec(text);
  if (upDown !== null) return inPercent(upDown[2] ?? "", upDown[1] ?? "");
  const downUp = DOWN_UP.exec(text);
  return downUp === null ? null : inPercent(downUp[1] ?? "", downUp[2] ?? "");
}

/** A checked tolerance; null when a part could come out at nothing or less. */
export function toleranceOf(minus: number, plus: number): Tolerance | null {
  return minus >= 0 && minus < 1 && plus >= 0 && Number.isFinite(plus) ? { minus, plus } : null;
}

/** Prints limits given as shares so that they read back exactly: "±20 %", "+80/−20 %". */
export function formatTolerance(minus: number, plus: number): string {
  return minus === plus ? `±${percentText(plus)} %` : `+${percentText(plus)}/−${percentText(minus)} %`;
}

/** Prints limits given as shares to be read in a sentence, to three figures: "±20 %", "+20/−14.3 %". */
export function spokenTolerance(minus: number, plus: number): string {
  const rounded = (share: number): number => Number(share.toPrecision(3));
  return formatTolerance(rounded(minus), rounded(plus));
}

function inPercent(minus: string, plus: string): Tolerance | null {
  const below = ratio.parse(`${minus} %`);
  const above = ratio.parse(`${plus} %`);
  return below === null || above === null ? null : toleranceOf(below, above);
}

function percentText(share: number): string {
  return decimalText(shift(decimalOf(share), 2));
}
