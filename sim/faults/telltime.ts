import type { FaultTable } from "./groups.js";
import { PACED } from "./kinds.js";
import type { Light } from "./light.js";
import { tellingHouses } from "./observations.js";
import { Telling } from "./telling.js";
import { type Micros, MINUTE } from "../units/time.js";

/** For how long one must watch a display from switch-on to be sure of a group of faults. */
export interface WatchTime {
  /** Microseconds, in whole minutes unless closing comes before. */
  readonly until: Micros;
  /** Groups that cannot always be told from it by looking, however long, by index. */
  readonly alike: readonly number[];
  /** Whether a display with these faults cannot always be told from one in order. */
  readonly hidden: boolean;
}

/**
 * For each group of faults the time after which it is told from a display in order and from every other group: some house
 * that is followed with a watch is lit with one and dark with the other for ten seconds or more. Of boards that are not,
 * because nobody knows at which step they wake or because their steps are too short: a house stays dark, or lit, for longer
 * than it ever does with the other; or the board has gone round, and a house of it stays dark or lit while another of its
 * houses is lit and does not so with the other, or the board steps at another pace. Where some group cannot be told from
 * it, the round of its board at least, of the whole display the longest one.
 */
export function watchTimes(table: FaultTable): WatchTime[] {
  const { scenario, healthy, groups, rounds, slowestCycle } = table;
  const told = new Telling(table);
  const between = (some: readonly Light[], others: readonly Light[]): number => {
    let latest = -Infinity;
    for (const a of some) for (const b of others) latest = Math.max(latest, told.after(a, b));
    return latest;
  };
  const sound = groups.map(({ lights }) => between(lights, [healthy]));
  const apart = told.meeting(groups.map(({ lights }) => lights)).map((met, g) => new Map([...met].filter((h) => h !== g).map((h) => [h, 0])));
  apart.forEach((met, g) => {
    for (const h of met.keys()) if (h < g) {
      const time = between(groups[g]!.lights, groups[h]!.lights);
      met.set(h, time);
      apart[h]!.set(g, time);
    }
  });
  const latestFirst = [...groups.keys()].sort((g, h) => (sound[g] === sound[h] ? g - h : sound[h]! - sound[g]!));
  // groups that touch nothing in common are told apart as soon as either is told from a display in order: of all these
  // only the latest counts, and those that neither is ever told from
  const distant = (g: number): [group: number, time: number][] => {
    const found: [number, number][] = [];
    for (const h of latestFirst) {
      if (h === g || apart[g]!.has(h)) continue;
      const time = Math.min(sound[g]!, sound[h]!);
      found.push([h, time]);
      if (time < Infinity) break;
    }
    return found;
  };
  const numbers = new Map(scenario.boards.map(({ id }, b) => [id, b]));
  return groups.map(({ faults, lights }, g) => {
    const fromHealthy = sound[g]!;
    const others = [...apart[g]!, ...distant(g)];
    const all = [fromHealthy, ...others.map(([, time]) => time)];
    const boards = new Set(faults.map(({ board }) => (board === null ? slowestCycle : rounds[numbers.get(board)!]!)));
    // another pace shows in two steps after the first, which differs in any case
    const paced = faults.flatMap(({ kind, board }) => (PACED.has(kind) ? lights.map((light) => twoSteps(light, tellingHouses(scenario, numbers.get(board!)!))) : []));
    const least = Math.max(0, ...paced, ...(all.includes(Infinity) ? boards : []));
    const until = Math.max(least, ...all.filter((time) => time < Infinity));
    return {
      until: Math.min(healthy.length, Math.ceil(until / MINUTE) * MINUTE),
      alike: others.flatMap(([h, time]) => (time === Infinity ? [h] : [])).sort((one, other) => one - other),
      hidden: fromHealthy === Infinity,
    };
  });
}

/** When these houses have changed for the third time, microseconds after switch-on; 0 where they hardly change. */
function twoSteps(light: Light, houses: readonly number[]): number {
  const moments = new Set(houses.flatMap((house) => light.turnsOf(house).filter((turn) => turn > 0)));
  return [...moments].sort((a, b) => a - b)[2] ?? 0;
}
