import { formatTolerance } from "../units/part.js";
import { duration, farads, ohms } from "../units/quantities.js";
import type { Choice } from "./choice.js";
import type { Range } from "./request.js";

/** The lines of a scenario file that describe a choice, as the `timer` of a board; the knob is set to the middle of `wanted`. */
export function scenarioLines(choice: Choice, wanted: Range): string[] {
  const { ra, rb, trimmer, c, chip, capacitor, divide, tolerances } = choice;
  const part = (value: string, { minus, plus }: { readonly minus: number; readonly plus: number }): string => `${value} ${formatTolerance(minus, plus)}`;
  const middle = Math.min(Math.max((wanted.from + wanted.to) / 2, choice.nominal.from), choice.nominal.to);
  return [
    "timer:",
    "  kind: astable",
    ...(chip === "ideal" ? [] : [`  chip: ${chip}`]),
    `  ra: { value: ${part(ohms.format(ra), tolerances.ra)}, type: ${tolerances.ra.type} }`,
    `  rb: { value: ${part(ohms.format(rb), tolerances.rb)}, type: ${tolerances.rb.type} }`,
    `  c: { value: ${part(farads.format(c), capacitor)}, type: ${capacitor.type} }`,
    `  trimmer: { value: ${part(ohms.format(trimmer.value), tolerances.trimmer)}, in: ${trimmer.in} }`,
    `  setTo: ${duration.format(Number(middle.toPrecision(3)))}`,
    ...(divide === 1 ? [] : [`  divide: ${divide}`]),
    ...(c >= LARGE ? ["  discharge: diode"] : []),
  ];
}

/** From here on, farad, a capacitor takes minutes to empty by itself. */
const LARGE = 10e-6;
