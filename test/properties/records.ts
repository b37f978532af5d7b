import { NOMINAL } from "../../sim/timers/build.js";
import fc from "fast-check";
import { expect } from "vitest";
import type { OpeningRecord, SceneRecord } from "../../sim/engine/record.js";
import { Scenes } from "../../sim/engine/sceneset.js";
import { timeline, type Timeline } from "../../sim/figures/timeline.js";
import { parseScenario } from "../../sim/scenario/read.js";

export const MINUTE = 60_000_000;
export const HOUR = 60 * MINUTE;

export const seeded = (numRuns: number): { seed: number; numRuns: number } => ({ seed: 20_240_511, numRuns });

/** Equal but for the rounding of quotients; null only where the other is null. */
export function expectNear(found: number | null, wanted: number | null): void {
  if (wanted === null || found === null) expect(found).toBe(wanted);
  else expect(Math.abs(found - wanted)).toBeLessThanOrEqual(1e-12 * Math.max(1, wanted));
}

/** One opening as told by hand: how long after the one before it begins, and its scenes with how long each is shown. */
export interface Day {
  gap: number;
  spells: { scene: number; length: number }[];
}

const scenario = parseScenario(
  "{ lampdrift: 1, title: By hand, houses: { a: , b: , c: , d: , e: , f: }, boards: { only: { timer: { kind: quartz, step: 1 h }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } } }",
  "by-hand.yaml",
);

/** The record of such days. Neighbouring spells with one scene are one spell, as in a simulated record. */
export function recordOf(days: readonly Day[]): SceneRecord {
  const openings: OpeningRecord[] = [];
  const starts: number[] = [];
  const shown: number[] = [];
  let now = 0;
  for (const { gap, spells } of days) {
    now += gap;
    const from = now;
    const first = starts.length;
    for (const { scene, length } of spells) {
      if (starts.length === first || shown.at(-1) !== scene) {
        starts.push(now);
        shown.push(scene);
      }
      now += length;
    }
    openings.push({ from, until: now, first, end: starts.length });
  }
  const scenes = new Scenes(6, Int32Array.from({ length: 1 + Math.max(...shown) }, (_, scene) => scene));
  return {
    scenario,
    openings,
    spellStart: Float64Array.from(starts),
    spellScene: Int32Array.from(shown),
    scenes,
    boards: scenario.boards.map(({ id }) => ({ id, pulses: 0 })),
    trace: null,
    build: NOMINAL,
  };
}

export const lineOf = (days: readonly Day[]): Timeline => timeline(recordOf(days));

/** The same days with one scene shown as another. */
export function merged(days: readonly Day[], scene: number, as: number): Day[] {
  return days.map(({ gap, spells }) => ({
    gap,
    spells: spells.map((spell) => (spell.scene === scene ? { ...spell, scene: as } : spell)),
  }));
}

/** The days backwards. */
export function reversed(days: readonly Day[]): Day[] {
  const gaps = [...days.map(({ gap }) => gap).slice(1), 0].reverse();
  return days.map(({ spells }) => spells.toReversed()).reverse().map((spells, i) => ({ gap: gaps[i]!, spells }));
}

/** Lengths that fall on the points of the curves, just beside them, and anywhere. */
const length = fc.oneof(
  fc.integer({ min: 1, max: 40 }).map((n) => n * 15_000_000),
  fc.integer({ min: 1, max: 10 }).map((n) => n * 15_000_000 + 1),
  fc.integer({ min: 1, max: 15 * MINUTE }),
);

const gap = fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 4 * HOUR }));

/** Up to four days of up to 40 spells, of 1 to 6 scenes. */
export const anyDays: fc.Arbitrary<Day[]> = fc.integer({ min: 1, max: 6 }).chain((scenes) =>
  fc.array(
    fc.record({ gap, spells: fc.array(fc.record({ scene: fc.nat(scenes - 1), length }), { minLength: 1, maxLength: 40 }) }),
    { minLength: 1, maxLength: 4 },
  ),
);
