import { decimalText, NUMBER, parseDecimal, shift, toNumber, type Decimal } from "./decimal.js";
import { quantityOf, type Quantity } from "./quantity.js";

/** Unit texts, each with the power of ten it stands for. */
export type Units = ReadonlyMap<string, number>;

/** One printed unit: used for magnitudes of at least `from`. */
export interface Rung {
  readonly from: number;
  readonly unit: string;
  readonly power: number;
}

export const PREFIXES: Readonly<Record<string, number>> = {
  "": 0, p: -12, n: -9, u: -6, "µ": -6, "μ": -6, m: -3, k: 3, K: 3, M: 6, G: 9,
};

/** Every prefix of `prefixes` (a text of letters; no prefix is always included) before every symbol. */
export function unitsWith(prefixes: string, symbols: readonly string[]): Units {
  const units = new Map<string, number>();
  for (const prefix of ["", ...Array.from(prefixes)]) {
    for (const symbol of symbols) units.set(prefix + symbol, PREFIXES[prefix] ?? 0);
  }
  return units;
}

const SCALED = new RegExp(`^([+\\-−]?${NUMBER})(.*)$`, "s");

/** Reads a number with one of the units; null when it is anything else. */
export function readScaled(text: string, units: Units): Decimal | null {
  const match = SCALED.exec(text);
  if (match === null) return null;
  const [, number = "", rest = ""] = match;
  const decimal = parseDecimal(number);
  const unit = rest.split("/").map((part) => part.trim()).join("/");
  const power = units.get(unit);
  return decimal === null || power === undefined ? null : shift(decimal, power);
}

/** Prints all digits of the value in the first unit of the ladder that is small enough for it. */
export function printScaled(value: Decimal, ladder: readonly [Rung, ...Rung[]]): string {
  const size = Math.abs(toNumber(value));
  const plainUnit = ladder.find(({ power }) => power === 0) ?? ladder[0];
  const rung = size === 0 ? plainUnit : (ladder.find(({ from }) => size >= from) ?? ladder[ladder.length - 1] ?? plainUnit);
  return `${decimalText(shift(value, -rung.power))} ${rung.unit}`;
}

/** A quantity written as a number and a unit that is a power of ten times the SI unit. */
export function scaledQuantity(notation: {
  name: string;
  accepted: string;
  signed: boolean;
  units: Units;
  ladder: readonly [Rung, ...Rung[]];
  /** A second notation, tried first. */
  coded?: (text: string) => Decimal | null;
}): Quantity {
  const { name, accepted, signed, units, ladder, coded } = notation;
  return quantityOf({
    name,
    accepted,
    signed,
    read: (text) => coded?.(text) ?? readScaled(text, units),
    print: (value) => printScaled(value, ladder),
  });
}
