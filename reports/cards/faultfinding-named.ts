import { houseName, type FaultTable } from "../../sim/faults/index.js";
import { listed } from "../../sim/units/text.js";
import { toSeconds, type Micros } from "../../sim/units/time.js";
import { counted } from "../words.js";

/** Houses, and stretches of time, that a symptom names one by one. */
export const NAMED = 5;
export const PHRASES = 3;

/** The first phrases, and how many houses more do likewise. */
export function abridgedPhrases(phrases: readonly string[]): string {
  const more = phrases.length - PHRASES;
  return [...phrases.slice(0, PHRASES), ...(more > 0 ? [`${counted(more, "more house")} likewise`] : [])].join("; ");
}

/** Houses by name, or the first of them and how many more. */
export function named({ scenario }: Pick<FaultTable, "scenario">, houses: readonly number[]): string {
  const names = houses.slice(0, NAMED).map((house) => houseName(scenario, house));
  const more = houses.length - NAMED;
  return listed(more > 0 ? [...names, counted(more, "more house")] : names);
}

/** A time after switch-on as a stopwatch shows it: "9:40", "1:05:00". */
export function onWatch(micros: Micros): string {
  const seconds = Math.round(toSeconds(micros));
  const two = (n: number): string => String(n).padStart(2, "0");
  const [h, min, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  return h > 0 ? `${h}:${two(min)}:${two(s)}` : `${min}:${two(s)}`;
}
