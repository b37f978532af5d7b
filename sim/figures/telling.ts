import type { SceneRecord } from "../engine/record.js";
import type { HouseFigures } from "./houses.js";
import { totals } from "./totals.js";

/** Scenes that tell what a display looks like, by number. */
export interface TellingScenes {
  /** With the most houses lit, and with the fewest; of several the one shown longest. */
  readonly brightest: number;
  readonly darkest: number;
  /** The one that differs in the fewest houses from the picture at a moment taken at random … */
  readonly typical: number;
  /** … which is so many houses on average. */
  readonly typicalDifference: number;
}

/**
 * The scenes worth a picture. With p the share of time for which a house is lit, a scene differs there from a random
 * moment with probability 1 − p where it is lit and p where it is dark; the sum over all houses is the mean difference.
 */
export function tellingScenes(record: SceneRecord, houses: readonly HouseFigures[]): TellingScenes {
  const { sceneTime } = totals(record);
  const shown = Array.from(sceneTime, (time, scene) => ({ scene, lit: record.scenes.lit(scene), time })).filter(({ time }) => time > 0);
  const dark = houses.reduce((sum, { litShare }) => sum + litShare, 0);
  const best = (better: (a: (typeof shown)[number], b: (typeof shown)[number]) => number): number =>
    shown.reduce((one, other) => ((better(other, one) || other.time - one.time) > 0 ? other : one)).scene;
  const differences = new Map(
    shown.map(({ scene, lit }) => [scene, lit.reduce((sum, house) => sum + 1 - 2 * houses[house]!.litShare, dark)]),
  );
  const typical = best((a, b) => differences.get(b.scene)! - differences.get(a.scene)!);
  return {
    brightest: best((a, b) => a.lit.length - b.lit.length),
    darkest: best((a, b) => b.lit.length - a.lit.length),
    typical,
    typicalDifference: Math.max(0, differences.get(typical)!),
  };
}
