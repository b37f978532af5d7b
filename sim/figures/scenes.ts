import type { SceneRecord } from "../engine/record.js";
import { wire } from "../engine/wiring.js";
import type { Scenario } from "../model/scenario.js";
import { medianOf } from "../statistics/median.js";
import type { Totals } from "./totals.js";
import { HOUR, type Seconds, toSeconds, type Micros } from "../units/time.js";

/** How many scenes there are, how long and how evenly they are shown; seconds. */
export interface SceneFigures {
  /** Number of scenes shown; nothing lit is a scene too. */
  readonly distinct: number;
  /** Number of scenes over all combinations of counter positions; null above a million of them. */
  readonly combinations: number | null;
  /** Scene changes inside openings. */
  readonly changes: number;
  readonly changesPerHour: number;
  /** Chance that two independent glances show the same scene. */
  readonly sameAtRandom: number;
  /** Effective number of scenes, Hill number of order 2. */
  readonly effective: number;
  /** Hill number of order 1. */
  readonly even: number;
  readonly shortestSeconds: Seconds;
  /** Median over spells, each counted once. */
  readonly medianSeconds: Seconds;
  readonly longestSeconds: Seconds;
}

const COMBINATIONS_LIMIT = 1_000_000;

/** Figures of the scenes of a record. Hill numbers as M. O. Hill, Ecology 54 (1973) 427-432. */
export function sceneFigures(record: SceneRecord, sums: Totals): SceneFigures {
  const same = sameAtRandom(sceneShares(sums));
  return {
    distinct: distinctScenes(sums),
    combinations: combinations(record.scenario),
    changes: sceneChanges(record, sums),
    changesPerHour: changesPerHour(record, sums),
    sameAtRandom: same,
    effective: effectiveScenes(same),
    even: hillOrder1(sceneShares(sums)),
    shortestSeconds: toSeconds(shortestSpell(sums)),
    medianSeconds: toSeconds(medianOf(sums.spells)),
    longestSeconds: toSeconds(longestSpell(sums)),
  };
}

/** Share of the open time for which each scene was shown. */
export function sceneShares({ open, sceneTime }: Totals): Float64Array {
  return sceneTime.map((time) => time / open);
}

/** Number of scenes shown. */
export function distinctScenes({ sceneTime }: Totals): number {
  return sceneTime.reduce((count, time) => (time > 0 ? count + 1 : count), 0);
}

/** Scene changes inside openings: every spell but the first of an opening begins with one. */
function sceneChanges({ openings }: SceneRecord, { spells }: Totals): number {
  return spells.length - openings.length;
}

export function changesPerHour(record: SceneRecord, sums: Totals): number {
  return sceneChanges(record, sums) / (sums.open / HOUR);
}

/** Length of the shortest spell. */
export function shortestSpell({ spells }: Totals): Micros {
  let least = Infinity;
  for (let i = 0; i < spells.length; i++) if (spells[i]! < least) least = spells[i]!;
  return least;
}

function longestSpell({ spells }: Totals): Micros {
  let most = 0;
  for (let i = 0; i < spells.length; i++) if (spells[i]! > most) most = spells[i]!;
  return most;
}

/** Simpson's concentration, sum of p²: two independent draws are of one kind. */
export function sameAtRandom(shares: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < shares.length; i++) sum += shares[i]! * shares[i]!;
  return sum;
}

/** Hill number of order 2: of so many scenes shown equally long, two glances would show the same one as often. */
export function effectiveScenes(same: number): number {
  return 1 / same;
}

/** exp of Shannon's entropy (natural logarithm); shares of 0 count for nothing. */
export function hillOrder1(shares: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < shares.length; i++) if (shares[i]! > 0) sum += shares[i]! * Math.log(shares[i]!);
  return Math.exp(-sum);
}

/** Number of different scenes over all combinations of counter positions. */
function combinations(scenario: Scenario): number | null {
  const boards = wire(scenario);
  const positions = boards.reduce((product, { sequence }) => product * sequence.steps, 1);
  if (positions > COMBINATIONS_LIMIT) return null;
  let scenes = new Set([0n]);
  for (const { patterns } of boards) {
    const masks = patterns.map((houses) => houses.reduce((mask, house) => mask | (1n << BigInt(house)), 0n));
    const joined = new Set<bigint>();
    for (const scene of scenes) for (const mask of masks) joined.add(scene | mask);
    scenes = joined;
  }
  return scenes.size;
}
