import { eachSpell, type SceneRecord } from "../engine/record.js";
import type { Totals } from "./totals.js";
import { toSeconds } from "../units/time.js";

export interface HouseFigures {
  readonly id: string;
  /** Share of the open time for which the house is lit. */
  readonly litShare: number;
  /** Changes from dark to lit inside openings. */
  readonly lightings: number;
  /** Longest stretches within one opening, 0 where there is none. */
  readonly longestDarkSeconds: number;
  readonly longestLitSeconds: number;
}

/** Figures of every house, in one pass over the spells and the houses lit in each. */
export function houseFigures(record: SceneRecord, { open, sceneTime }: Totals): HouseFigures[] {
  const { houses } = record.scenario;
  const runs = houses.map(() => ({ since: 0, lit: false, lightings: 0, longestDark: 0, longestLit: 0 }));
  const end = (run: (typeof runs)[number], t: number): void => {
    if (run.lit) run.longestLit = Math.max(run.longestLit, t - run.since);
    else run.longestDark = Math.max(run.longestDark, t - run.since);
  };
  const turn = (house: number, lit: boolean, t: number): void => {
    const run = runs[house]!;
    end(run, t);
    if (lit) run.lightings++;
    run.lit = lit;
    run.since = t;
  };
  /** Number of the last spell in which each house was lit. */
  const lastLit = new Int32Array(houses.length);
  let spell = 0;
  let before: readonly number[] = [];
  let current = -1;
  eachSpell(record, (sceneNumber, start, _end, opening) => {
    const scene = record.scenes[sceneNumber]!;
    spell++;
    for (const house of scene) lastLit[house] = spell;
    if (opening !== current) {
      if (current >= 0) for (const run of runs) end(run, record.openings[current]!.until);
      current = opening;
      runs.forEach((run, house) => Object.assign(run, { lit: lastLit[house] === spell, since: start }));
    } else {
      for (const house of before) if (lastLit[house] !== spell) turn(house, false, start);
      for (const house of scene) if (!runs[house]!.lit) turn(house, true, start);
    }
    before = scene;
  });
  for (const run of runs) end(run, record.openings[current]!.until);

  const litTime = new Float64Array(houses.length);
  record.scenes.forEach((scene, i) => {
    for (const house of scene) litTime[house] = litTime[house]! + sceneTime[i]!;
  });
  return houses.map(({ id }, house) => ({
    id,
    litShare: litTime[house]! / open,
    lightings: runs[house]!.lightings,
    longestDarkSeconds: toSeconds(runs[house]!.longestDark),
    longestLitSeconds: toSeconds(runs[house]!.longestLit),
  }));
}

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
  const time = scenes.reduce(
    (sum, scene, i) => (scene.some((house) => scenario.houses[house]!.zone === zone) ? sum + sceneTime[i]! : sum),
    0,
  );
  return time / open;
}

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
  const { open, sceneTime } = sums;
  const time = new Float64Array(record.scenario.houses.length + 1);
  record.scenes.forEach((scene, i) => {
    time[scene.length] = time[scene.length]! + sceneTime[i]!;
  });
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
  return sceneTime.reduce((sum, time, scene) => sum + scenes[scene]!.length * time, 0) / open;
}
