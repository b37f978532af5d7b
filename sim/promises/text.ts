import type { Promised } from "../model/scenario.js";
import { duration } from "../units/quantities.js";
import { percent, plain, spokenDuration } from "../units/text.js";

/** What a promise is measured in. A share is 0 … 1; ratings are shares of their limit. */
export type PromiseUnit = "s" | "houses" | "scenes" | "share";

/** The unit of a promise's value and limit. */
export function unitOf(promised: Promised): PromiseUnit {
  switch (promised.kind) {
    case "step":
    case "sceneLasts":
    case "darkSpell":
      return "s";
    case "litHouses":
      return "houses";
    case "anyHour":
    case "effectiveScenes":
      return "scenes";
    case "repeatOnReturn":
    case "repeatWithinStay":
    case "zoneLit":
    case "ratings":
      return "share";
  }
}

/** A promise in plain words: "every step after the first lasts 1 min to 4 min". */
export function promiseText(promised: Promised): string {
  switch (promised.kind) {
    case "step":
      return `every step after the first lasts ${range(promised, time)}`;
    case "sceneLasts":
      return `every scene lasts ${range(promised, time)}`;
    case "litHouses":
      return `${range(promised, count)} houses are lit at any moment`;
    case "darkSpell":
      return `no house is dark for more than ${duration.format(promised.atMost)} at a stretch`;
    case "anyHour":
      return `any hour shows at least ${count(promised.atLeast)} different scenes`;
    case "effectiveScenes":
      return `the picture varies like at least ${count(promised.atLeast)} scenes in equal shares`;
    case "repeatOnReturn":
      return `whoever comes back after ${duration.format(promised.after)} meets the same scene at most ${percent(promised.atMost)} of the time`;
    case "repeatWithinStay":
      return `at most ${percent(promised.atMost)} of visitors who stay ${duration.format(promised.stay)} see a scene come back`;
    case "zoneLit":
      return `zone ${promised.zone} has a house lit at least ${percent(promised.atLeast)} of the time`;
    case "ratings":
      return "every part is within its rating";
  }
}

/** A promise with only that side of its range which has the given limit; promises without a range stay as they are. */
export function onlySide(promised: Promised, limit: number | null): Promised {
  if (!("from" in promised) || limit === null) return promised;
  return limit === promised.to ? { ...promised, from: null } : { ...promised, to: null };
}

/** What was found, in the unit of its promise; told apart from the limit even where both round to the same text. */
export function valueText(value: number, limit: number | null, unit: PromiseUnit): string {
  const print = unit === "s" ? spokenDuration : unit === "share" ? percent : (n: number) => `${count(n)} ${unit}`;
  if (limit === null || value === limit || !Number.isFinite(value)) return print(value);
  const finer = [print, ...(unit === "s" ? [tenths] : [])];
  const told = finer.find((text) => text(value) !== text(limit));
  return told === undefined ? `just ${value > limit ? "over" : "under"} ${print(limit)}` : told(value);
}

function tenths(seconds: number): string {
  return duration.format(Math.round(seconds * 10) / 10);
}

function time(seconds: number): string {
  return duration.format(seconds);
}

function count(n: number): string {
  return plain(n, 4);
}

function range({ from, to }: { from: number | null; to: number | null }, print: (bound: number) => string): string {
  if (from === null) return `at most ${print(to!)}`;
  return to === null ? `at least ${print(from)}` : `${print(from)} to ${print(to)}`;
}
