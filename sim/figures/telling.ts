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
  const dark = houses.reduce((sum, { litShare }) => sum + litShare, 0);
  // numbers alone: the lists of houses of all scenes would fill hundreds of megabytes
  const [litHouses, differences] = [new Float64Array(sceneTime.length), new Float64Array(sceneTime.length)];
  for (let scene = 0; scene < sceneTime.length; scene++) {
    const lit = record.scenes.lit(scene);
    litHouses[scene] = lit.length;
    differences[scene] = lit.reduce((sum, house) => sum + 1 - 2 * houses[house]!.litShare, dark);
  }
  const most = (measure: Float64Array, sign: 1 | -1): number => {
    let best = -1;
    for (let scene = 0; scene < sceneTime.length; scene++) {
      if (sceneTime[scene] === 0) continue;
      const more = best < 0 ? 1 : sign * (measure[scene]! - measure[best]!) || sceneTime[scene]! - sceneTime[best]!;
      if (more > 0) best = scene;
    }
    return best;
  };
  const typical = most(differences, -1);
  return {
    brightest: most(litHouses, 1),
    darkest: most(litHouses, -1),
    typical,
    typicalDifference: Math.max(0, differences[typical]!),
  };
}
