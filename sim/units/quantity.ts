import { decimalOf, toNumber, type Decimal } from "./decimal.js";

/** A kind of physical quantity: how people write it, and the SI number that is meant. */
export interface Quantity {
  /** What it is called in a message, such as "resistance". */
  readonly name: string;
  /** Completes the sentence "expected ...". */
  readonly accepted: string;
  /** The SI number, or null when the input is not understood or not possible; never NaN or infinite. */
  readonly parse: (input: string | number) => number | null;
  /**
   * The notation people solder with. Every value that `parse` can return is read back as exactly the same double.
   * Throws a RangeError for NaN and infinities.
   */
  readonly format: (value: number) => string;
}

/** Longer texts are not quantities; refusing them bounds the work that any input can cause. */
export const LONGEST_TEXT = 100;

export interface Notation {
  readonly name: string;
  readonly accepted: string;
  /** Whether values below zero make sense. */
  readonly signed: boolean;
  /** Reads trimmed text, exactly; null when it is not understood. */
  readonly read: (text: string) => Decimal | null;
  /** Prints an exact decimal. */
  readonly print: (value: Decimal) => string;
}

/** Makes a quantity of a notation; a plain number reads like its shortest decimal text. */
export function quantityOf({ name, accepted, signed, read, print }: Notation): Quantity {
  return {
    name,
    accepted,
    parse(input) {
      const text = String(input);
      if (text.length > LONGEST_TEXT) return null;
      const decimal = read(text.trim());
      if (decimal === null) return null;
      const value = toNumber(decimal);
      return Number.isFinite(value) && (signed || value >= 0) ? value + 0 : null;
    },
    format(value) {
      return print(decimalOf(value));
    },
  };
}
