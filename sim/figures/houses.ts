import type { SceneRecord } from "../engine/record.js";
import { lowestBit, Scenes } from "../engine/sceneset.js";
import { type Seconds, toSeconds } from "../units/time.js";
import type { Totals } from "./totals.js";

/** For how long and how often a house is lit. */
export interface HouseFigures {
  readonly id: string;
  /** Share of the open time for which the house is lit. */
  readonly litShare: number;
  /** Changes from dark to lit inside openings. */
  readonly lightings: number;
  /** Longest stretches within one opening, 0 where there is none. */
  readonly longestDarkSeconds: Seconds;
  readonly longestLitSeconds: Seconds;
}

/** Figures of every house, in one pass over the spells and the houses that change with each. */
export function houseFigures({ scenes, scenario, openings, spellStart, spellScene }: SceneRecord, { open }: Totals): HouseFigures[] {
  const houses = scenario.houses.length;
  const { masks, words } = scenes;
  /** Since when each house has been as it is. */
  const since = new Float64Array(houses);
  const lightings = new Float64Array(houses);
  const litTime = new Float64Array(houses);
  /** The longest stretches, dark and lit, of each house side by side. */
  const longest = new Float64Array(2 * houses);
  for (const { first, end, from, until } of openings) {
    since.fill(from);
    for (let i = first + 1; i < end; i++) {
      const start = spellStart[i]!;
      const before = spellScene[i - 1]! * words;
      const after = spellScene[i]! * words;
      for (let w = 0; w < words; w++) {
        const was = masks[before + w]!;
        for (let changed = was ^ masks[after + w]!; changed !== 0; changed &= changed - 1) {
          const bit = lowestBit(changed);
          const house = 32 * w + bit;
          // 1 for a house that was lit; nobody could foresee which, so that sums are quicker than asking
          const lit = (was >>> bit) & 1;
          const length = start - since[house]!;
          since[house] = start;
          litTime[house]! += lit * length;
          lightings[house]! += 1 - lit;
          if (length > longest[2 * house + lit]!) longest[2 * house + lit] = length;
        }
      }
    }
    for (let house = 0; house < houses; house++) {
      const lit = scenes.isLit(spellScene[end - 1]!, house) ? 1 : 0;
      const length = until - since[house]!;
      litTime[house]! += lit * length;
      if (length > longest[2 * house + lit]!) longest[2 * house + lit] = length;
    }
  }
  return scenario.houses.map(({ id }, house) => ({
    id,
    litShare: litTime[house]! / open,
    lightings: lightings[house]!,
    longestDarkSeconds: toSeconds(longest[2 * house]!),
    longestLitSeconds: toSeconds(longest[2 * house + 1]!),
  }));
}

/** For how long anything is lit in a zone. */
export interface ZoneFigures {
  readonly zone: string;
  /** Share of the open time with at least one house of the zone lit. */
  readonly litShare: number;
}

/** Figures of every zone, in order of first mention. */
export function zoneFigures(record: SceneRecord, sums: Totals): ZoneFigures[] {
  const zones = [...new Set(record.scenario.houses.flatMap(({ zone }) => zone ?? []))];
  return zones.map((zone) => ({ zone, litShare: zoneShare(record, sums, zone) }));
}

/** Share of the open time with at least one house of a zone lit. */
export function zoneShare({ scenario, scenes }: SceneRecord, { open, sceneTime }: Totals, zone: string): number {
  const members = Scenes.of(scenario.houses.length, [scenario.houses.flatMap((house, h) => (house.zone === zone ? [h] : []))]);
  let time = 0;
  for (let scene = 0; scene < scenes.length; scene++) if (scenes.meets(scene, members.masks)) time += sceneTime[scene]!;
  return time / open;
}

/** How many houses are lit at once. */
export interface LitFigures {
  /** Number of houses lit at once. */
  readonly min: number;
  readonly max: number;
  readonly mean: number;
  /** shares[n]: share of the open time with exactly n houses lit; n from 0 to the number of houses. */
  readonly shares: readonly number[];
}

/** How many houses are lit at once. */
export function litFigures(record: SceneRecord, sums: Totals): LitFigures {
  const { scenario, scenes } = record;
  const { open, sceneTime } = sums;
  const time = new Float64Array(scenario.houses.length + 1);
  for (let scene = 0; scene < sceneTime.length; scene++) time[scenes.count(scene)]! += sceneTime[scene]!;
  const shares = Array.from(time, (t) => t / open);
  const shown = shares.flatMap((share, n) => (share > 0 ? [n] : []));
  return {
    min: Math.min(...shown),
    max: Math.max(...shown),
    mean: meanLit(record, sums),
    shares,
  };
}

/** Number of houses lit at once, mean over the open time. */
export function meanLit({ scenes }: SceneRecord, { open, sceneTime }: Totals): number {
  let sum = 0;
  for (let scene = 0; scene < sceneTime.length; scene++) sum += scenes.count(scene) * sceneTime[scene]!;
  return sum / open;
}
