import { quickselect } from "d3-array";
import type { SceneRecord } from "../engine/record.js";
import { wire } from "../engine/wiring.js";
import type { Scenario } from "../model/scenario.js";
import type { Totals } from "./totals.js";
import { HOUR, toSeconds } from "../units/time.js";

export interface SceneFigures {
  /** Number of scenes shown; nothing lit is a scene too. */
  readonly distinct: number;
  /** Number of scenes over all combinations of counter positions; null above {@link COMBINATIONS_LIMIT} of them. */
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
  readonly shortestSeconds: number;
  /** Median over spells, each counted once. */
  readonly medianSeconds: number;
  readonly longestSeconds: number;
}

const COMBINATIONS_LIMIT = 1_000_000;

/** Figures of the scenes of a record. Hill numbers as M. O. Hill, Ecology 54 (1973) 427-432. */
export function sceneFigures(record: SceneRecord, { open, sceneTime, spells }: Totals): SceneFigures {
  const shares = Array.from(sceneTime, (time) => time / open).filter((share) => share > 0);
  const same = sameAtRandom(shares);
  const changes = spells.length - record.openings.length;
  return {
    distinct: shares.length,
    combinations: combinations(record.scenario),
    changes,
    changesPerHour: changes / (open / HOUR),
    sameAtRandom: same,
    effective: 1 / same,
    even: hillOrder1(shares),
    shortestSeconds: toSeconds(spells.reduce((least, spell) => Math.min(least, spell), Infinity)),
    medianSeconds: toSeconds(medianOf(spells)),
    longestSeconds: toSeconds(spells.reduce((most, spell) => Math.max(most, spell), 0)),
  };
}

/** Simpson's concentration, sum of p²: two independent draws are of one kind. */
export function sameAtRandom(shares: readonly number[]): number {
  return shares.reduce((sum, p) => sum + p * p, 0);
}

/** exp of Shannon's entropy (natural logarithm); shares of 0 count for nothing. */
export function hillOrder1(shares: readonly number[]): number {
  return Math.exp(-shares.reduce((sum, p) => (p > 0 ? sum + p * Math.log(p) : sum), 0));
}

/** Median of a list, the mean of the two middle values where their number is even. Linear time, on a copy. */
function medianOf(values: Float64Array): number {
  const copy = values.slice();
  const upper = copy.length >> 1;
  quickselect(copy, upper);
  if (copy.length % 2 === 1) return copy[upper]!;
  let lower = -Infinity;
  for (let i = 0; i < upper; i++) lower = Math.max(lower, copy[i]!);
  return (lower + copy[upper]!) / 2;
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
