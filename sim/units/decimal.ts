/**
 * Exact decimal numbers, coefficient · 10^exponent.
 *
 * Quantities are read and printed through these, so that "470 µF" is the double nearest to 0.00047
 * and not the product of two doubles that were each rounded already.
 */
export interface Decimal {
  readonly coefficient: bigint;
  readonly exponent: number;
}

/** The grammar of an unsigned number, as the source of a regular expression. No decimal comma. */
export const NUMBER = String.raw`(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?`;

const SIGNED = /^([+\-−]?)(\d*)(?:\.(\d*))?(?:[eE]([+-]?\d{1,3}))?$/;

/** Reads a plain number such as "-4.7" or "1e-6"; null when the text is anything else. */
export function parseDecimal(text: string): Decimal | null {
  const match = SIGNED.exec(text);
  if (match === null) return null;
  const [, sign, whole = "", fraction = "", exponent = "0"] = match;
  if (whole === "" && fraction === "") return null;
  const magnitude = BigInt(whole + fraction);
  return {
    coefficient: sign === "" || sign === "+" ? magnitude : -magnitude,
    exponent: Number(exponent) - fraction.length,
  };
}

/** The shortest decimal that reads back as the same double. `value` must be finite. */
export function decimalOf(value: number): Decimal {
  const decimal = parseDecimal(value.toExponential());
  if (decimal === null) throw new RangeError(`${value} is not a finite number`);
  return decimal;
}

/** The nearest double; zero is never negative. Infinite when beyond the range of doubles. */
export function toNumber({ coefficient, exponent }: Decimal): number {
  return Number(`${coefficient}e${exponent}`);
}

/** The decimal times 10^places. */
export function shift({ coefficient, exponent }: Decimal, places: number): Decimal {
  return { coefficient, exponent: exponent + places };
}

export function add(a: Decimal, b: Decimal): Decimal {
  const exponent = Math.min(a.exponent, b.exponent);
  return { coefficient: aligned(a, exponent) + aligned(b, exponent), exponent };
}

export function multiply(a: Decimal, factor: bigint): Decimal {
  return { coefficient: a.coefficient * factor, exponent: a.exponent };
}

/** a / b, exact where the quotient is a short decimal and otherwise to at least 40 digits; b must not be 0. */
export function divide(a: Decimal, b: Decimal): Decimal {
  const places = 40 + String(b.coefficient).length;
  return {
    coefficient: (a.coefficient * 10n ** BigInt(places)) / b.coefficient,
    exponent: a.exponent - b.exponent - places,
  };
}

/** Prints all digits: "0.00047", "4700"; very large and very small numbers with an exponent, "1e-9". */
export function decimalText({ coefficient, exponent }: Decimal): string {
  if (coefficient === 0n) return "0";
  const sign = coefficient < 0n ? "-" : "";
  const all = String(coefficient < 0n ? -coefficient : coefficient);
  const digits = all.replace(/0+$/, "");
  const point = all.length + exponent;
  if (point > 21 || point < -5) {
    const fraction = digits.length > 1 ? `.${digits.slice(1)}` : "";
    return `${sign}${digits.charAt(0)}${fraction}e${point - 1}`;
  }
  if (point <= 0) return `${sign}0.${"0".repeat(-point)}${digits}`;
  if (point >= digits.length) return sign + digits.padEnd(point, "0");
  return `${sign}${digits.slice(0, point)}.${digits.slice(point)}`;
}

function aligned(value: Decimal, exponent: number): bigint {
  return value.coefficient * 10n ** BigInt(value.exponent - exponent);
}
