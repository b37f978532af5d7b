import type { Quantity } from "../units/quantity.js";

/** A quantity for prose, rounded to three digits: "1.92 µA", "330 kΩ". */
export function spoken(quantity: Quantity, value: number): string {
  return quantity.format(Number(value.toPrecision(3)));
}
