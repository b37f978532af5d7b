import { contradiction, houseName, housesOf, meantBy, seenInWords, unclear, type FaultTable, type Observation } from "../../sim/faults/index.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { askUnit } from "../../sim/units/askunit.js";
import { duration } from "../../sim/units/quantities.js";
import { listed, spokenDuration } from "../../sim/units/text.js";
import { UsageError } from "../output/errors.js";
import { visible } from "../output/visible.js";
import { toMicros, toSeconds, type Micros } from "../../sim/units/time.js";

/** The options that say what was seen. */
export const SEEN_OPTIONS = [
  { key: "dark", option: "--dark", of: "house" },
  { key: "lit", option: "--lit", of: "house" },
  { key: "changing", option: "--changing", of: "house" },
  { key: "times", option: "--times", of: "count" },
  { key: "frozen", option: "--frozen", of: "board" },
  { key: "slow", option: "--slow", of: "board" },
  { key: "fast", option: "--fast", of: "board" },
  { key: "onPace", option: "--on-pace", of: "board" },
  { key: "darkAt", option: "--dark-at", of: "moment" },
  { key: "litAt", option: "--lit-at", of: "moment" },
] as const;

type SeenOption = (typeof SEEN_OPTIONS)[number];

/** What was given for each of them. */
export type Seen = Readonly<Record<SeenOption["key"], readonly string[]>>;

/**
 * What was seen, with every name looked up; the same thing said twice counts once. Throws a {@link UsageError} for names
 * that nothing has, for what makes no sense, and for what cannot all be true.
 */
export function observationsOf(table: FaultTable, given: Seen, watched: number): Observation[] {
  const seen = new Map<string, Observation>();
  for (const option of SEEN_OPTIONS) {
    for (const item of given[option.key]) {
      const observation = observationOf(table, option, item, watched);
      seen.set(JSON.stringify(observation), observation);
    }
  }
  const all = [...seen.values()];
  const clash = contradiction(table.scenario, all);
  if (clash === undefined) return all;
  throw new UsageError(`these cannot ${clash.length > 2 ? "all" : "both"} be true: ${clash.map((one) => seenInWords(table.scenario, one)).join("; ")}`);
}

/** One item such as "inn", "inn@12 min", "inn@12 min=2" or "inn@12 min while bakery". */
function observationOf(table: FaultTable, { key, option, of }: SeenOption, item: string, watched: number): Observation {
  const { scenario } = table;
  const [, before = "", count] = of === "count" ? (/^([^]*)=\s*(\d{1,7})$/.exec(item) ?? [item, item]) : [item, item];
  const [, about = "", other] = of === "house" ? (/^([^]*?)\s+while\s+([^]*)$/.exec(before) ?? [before, before]) : [before, before];
  const [name = "", ...time] = about.split("@");
  const until = time.length === 0 ? watched : timeWithin(table, time.join("@"), option);
  if (of === "board") return { kind: key === "onPace" ? "on-pace" : key, board: boardOf(scenario, name, option), until };
  const house = houseOf(scenario, name.split("=")[0]!, option);
  const example = scenario.houses[house]!.id;
  switch (key) {
    case "times":
      if (count === undefined) {
        throw new UsageError(`${option}: found "${abridged(item)}"; expected a house and how many times it came on, such as ` +
          `"${example}=2"`);
      }
      return { kind: key, house, until, times: Number(count) };
    case "darkAt":
    case "litAt":
      if (time.length === 0) {
        throw new UsageError(`${option}: found "${abridged(item)}"; expected a house and a moment after switch-on, such as ` +
          `"${example}@12 min"`);
      }
      return { kind: key === "litAt" ? "lit-at" : "dark-at", house, at: until };
    default: {
      const whileLit = other === undefined ? null : houseOf(scenario, other, option);
      if (whileLit === house) throw new UsageError(`${option}: found "${abridged(item)}"; expected two different houses`);
      return { kind: key, house, until, whileLit };
    }
  }
}

function houseOf({ houses }: Scenario, name: string, option: string): number {
  return indexOf(houses, name.trim(), "house", option);
}

function boardOf(scenario: Scenario, name: string, option: string): number {
  const board = indexOf(scenario.boards, name.trim(), "board", option);
  const { all, own } = housesOf(scenario, board);
  if (own.length > 0) return board;
  const { id } = scenario.boards[board]!;
  if (all.length === 0) throw new UsageError(`${option}: board ${id} lights no house, so nobody can see whether it moves`);
  const names = listed(all.map((house) => houseName(scenario, house)));
  throw new UsageError(`${option}: other boards light ${names} too, so that board ${id} cannot be judged by itself; say what each ` +
    "house does (--dark, --lit, --dark-at, --lit-at)");
}

function indexOf(among: readonly { readonly id: string; readonly name?: string }[], name: string, what: "house" | "board", option: string): number {
  const meant = meantBy(name, among);
  if (meant.length === 1) return meant[0]!;
  throw new UsageError(`${option}: ${unclear(abridged(name), what, among, meant)}`);
}

/** A time after switch-on; it must lie in the time that is looked at. */
export function timeWithin({ healthy }: FaultTable, text: string, option: string): Micros {
  const asked = askUnit(text);
  if (asked !== null) throw new UsageError(`${option}: found "${abridged(text)}"; ${asked}`);
  const seconds = duration.parse(text.trim());
  if (seconds === null) throw new UsageError(`${option}: found "${abridged(text)}"; expected ${duration.accepted}`);
  const micros = toMicros(seconds);
  if (micros > 0 && micros <= healthy.length) return micros;
  throw new UsageError(`${option}: found "${abridged(text)}"; expected a time after switch-on, at most ` +
    `${spokenDuration(toSeconds(healthy.length))} (one opening)`);
}

function abridged(text: string): string {
  return visible(text.length > 60 ? `${text.slice(0, 60)}…` : text);
}
