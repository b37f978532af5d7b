import type { SceneRecord } from "../engine/record.js";
import { houseName } from "../model/housename.js";
import { duration } from "../units/quantities.js";
import { percent, plain, spokenDuration } from "../units/text.js";
import type { PromiseUnit } from "./kinds/kind.js";
import type { Ends } from "./kinds/limits.js";
import type { Seconds } from "../units/time.js";

/** "4 min 12 s", to be read back. */
export function time(seconds: Seconds): string {
  return duration.format(seconds);
}

export function count(n: number): string {
  return plain(n, 4);
}

/** "1 house", "3 houses". */
export function several(n: number, noun: string): string {
  return `${count(n)} ${noun}${n === 1 ? "" : "s"}`;
}

/** "at least 3", "3 to 5". */
export function range({ from, to }: Ends, print: (bound: number) => string): string {
  if (from === null) return `at most ${print(to!)}`;
  return to === null ? `at least ${print(from)}` : `${print(from)} to ${print(to)}`;
}

/** What was found, in the unit of its promise; told apart from the limit even where both round to the same text. */
export function valueText(value: number, limit: number | null, unit: PromiseUnit): string {
  const print = unit === "s" ? spokenDuration : unit === "share" ? percent : (n: number) => several(n, unit.slice(0, -1));
  if (limit === null || value === limit || !Number.isFinite(value)) return print(value);
  const finer = [print, ...(unit === "s" ? [tenths] : [])];
  const told = finer.find((text) => text(value) !== text(limit));
  return told === undefined ? `just ${value > limit ? "over" : "under"} ${print(limit)}` : told(value);
}

function tenths(seconds: Seconds): string {
  return duration.format(Math.round(seconds * 10) / 10);
}

const MOST_NAMED = 8;

/** "lit: Bakery, Three Gulls Inn". */
export function litText(record: SceneRecord, scene: number): string {
  const houses = record.scenes.lit(scene);
  if (houses.length === 0) return "no house is lit";
  const named = houses.slice(0, MOST_NAMED).map((house) => houseName(record.scenario, house));
  const rest = houses.length > named.length ? ` and ${houses.length - named.length} more` : "";
  return `lit: ${named.join(", ")}${rest}`;
}
