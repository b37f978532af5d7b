import type { Promised } from "../model/scenario.js";
import { kindOf } from "./kinds/index.js";
import type { PromiseUnit } from "./kinds/kind.js";

/** The unit of a promise's value and limit. */
export function unitOf(promised: Promised): PromiseUnit {
  return kindOf(promised).unit;
}

/** A promise in plain words: "every step after the first lasts 1 min to 4 min". */
export function promiseText(promised: Promised): string {
  return kindOf(promised).text(promised);
}

/** A promise with only that side of its range which has the given limit; promises without a range stay as they are. */
export function onlySide(promised: Promised, limit: number | null): Promised {
  if (!("from" in promised) || limit === null) return promised;
  return limit === promised.to ? { ...promised, from: null } : { ...promised, to: null };
}
