import { SMALLEST_RA } from "../parts/chips.js";
import { plain } from "../units/text.js";
import { assumptionsOf } from "./assumptions.js";
import { choiceOf, type Choice } from "./choice.js";
import { Surroundings } from "./corners.js";
import { diverse } from "./diverse.js";
import { reasonsFor, whyNone, whyNot } from "./reasons.js";
import { fullRequest, PartsRequestError, spokenRange, type PartsRequest } from "./request.js";
import { search } from "./search.js";
import { usualShelf } from "./shelf.js";

export type { Choice } from "./choice.js";
export { scenarioLines } from "./paste.js";
export { parseRange, PartsRequestError, type PartsRequest, type Range } from "./request.js";
export { parseStock, StockError } from "./stock.js";

/** Parts for an RC timer, best first; where there are none, why. */
export interface PartsAnswer {
  /** Of different make, best first. */
  readonly choices: readonly (Choice & { readonly reasons: readonly string[] })[];
  /** For each make that has no choice the parts that come nearest, nearest first. */
  readonly nearMisses: readonly (Choice & { readonly why: string })[];
  /** Why `choices` is empty; null when it is not. */
  readonly reason: string | null;
  /** What was taken for granted: a sentence each. */
  readonly assumptions: readonly string[];
}

/**
 * Timer parts whose knob reaches a range of step times whatever the parts, at every corner of tolerance and temperature.
 * Throws {@link PartsRequestError} for a request that makes no sense, and for a range that no knob can span.
 * SI units: seconds, ohms, farads, volts, ampere, °C.
 *
 * @example
 * ```ts
 * import { planParts } from "lampdrift";
 *
 * const { choices, reason } = planParts({ range: { from: 30, to: 120 } });
 * console.log(reason, choices[0]!.corners.from <= 30, choices[0]!.corners.to >= 120); // null true true
 * ```
 */
export function planParts(asked: PartsRequest): PartsAnswer {
  const request = fullRequest(asked);
  const { range, stock } = request;
  const shelf = stock ?? usualShelf(request.series);
  if (!shelf.resistors.some(({ value }) => value >= SMALLEST_RA.value)) {
    throw new PartsRequestError("stock", "the stock has no fixed resistor of 1 kΩ or more, and a timer needs two such; add some");
  }
  const { good, misses, widest } = search(request, shelf);
  const ratio = range.to / range.from;
  if (ratio > widest) {
    throw new PartsRequestError(
      "reach",
      `no knob reaches ${spokenRange(range)}, which is 1 : ${plain(ratio, 3)}; the widest of these parts reaches ` +
        `1 : ${plain(widest, 3)} at the worst. Ask for a narrower range, or for two ranges with a switch between two capacitors`,
    );
  }
  const surroundings = new Surroundings(request);
  const choices = diverse(good.map((parts) => choiceOf(parts, request, surroundings)));
  const nearMisses = misses.map((miss) => {
    const choice = choiceOf(miss.parts, request, surroundings);
    return { ...choice, why: whyNot(miss, choice, request) };
  });
  return {
    choices: choices.map((choice) => ({ ...choice, reasons: reasonsFor(choice, request) })),
    nearMisses,
    reason: choices.length > 0 ? null : whyNone(request, widest),
    assumptions: assumptionsOf(request),
  };
}
