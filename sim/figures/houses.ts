import { eachSpell, type SceneRecord } from "../engine/record.js";
import { Scenes } from "../engine/sceneset.js";
import { type Micros, type Seconds, toSeconds } from "../units/time.js";
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
export function houseFigures(record: SceneRecord, { open }: Totals): HouseFigures[] {
  const { scenes, scenario } = record;
  const houses = scenario.houses.length;
  const since = new Float64Array(houses);
  const lit = new Uint8Array(houses);
  const lightings = new Float64Array(houses);
  const litTime = new Float64Array(houses);
  const longestDark = new Float64Array(houses);
  const longestLit = new Float64Array(houses);
  const end = (house: number, t: Micros): void => {
    const length = t - since[house]!;
    if (lit[house] === 1) {
      litTime[house]! += length;
      if (length > longestLit[house]!) longestLit[house] = length;
    } else if (length > longestDark[house]!) {
      longestDark[house] = length;
    }
    since[house] = t;
  };
  const changed = new Int32Array(houses);
  let before = -1;
  let current = -1;
  const close = (): void => {
    for (let house = 0; house < houses; house++) end(house, record.openings[current]!.until);
  };
  eachSpell(record, (scene, start, _end, opening) => {
    if (opening !== current) {
      if (current >= 0) close();
      current = opening;
      for (let house = 0; house < houses; house++) lit[house] = scenes.isLit(scene, house) ? 1 : 0;
      since.fill(start);
    } else {
      const count = scenes.changed(before, scene, changed);
      for (let i = 0; i < count; i++) {
        const house = changed[i]!;
        end(house, start);
        lit[house]! ^= 1;
        lightings[house]! += lit[house]!;
      }
    }
    before = scene;
  });
  close();
  return scenario.houses.map(({ id }, house) => ({
    id,
    litShare: litTime[house]! / open,
    lightings: lightings[house]!,
    longestDarkSeconds: toSeconds(longestDark[house]!),
    longestLitSeconds: toSeconds(longestLit[house]!),
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
  sceneTime.forEach((shown, scene) => (time[scenes.count(scene)]! += shown));
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
  return sceneTime.reduce((sum, time, scene) => sum + scenes.count(scene) * time, 0) / open;
}
