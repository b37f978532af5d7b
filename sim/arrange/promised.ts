import { effectiveScenes } from "../figures/scenes.js";
import type { Promised } from "../model/scenario.js";
import type { Lights, Parts } from "./parts.js";

/** By how many promises, and how far, the lights of an arrangement miss what the search can see of them. */
export function brokenBy(promises: readonly Promised[], lights: Lights, parts: Parts): number {
  return promises.reduce((sum, promised) => sum + missing(promised, lights, parts), 0);
}

function missing(promised: Promised, lights: Lights, parts: Parts): number {
  switch (promised.kind) {
    case "litHouses":
      return beyond(lights.least, promised.from ?? -Infinity, 1) + beyond(-lights.most, -(promised.to ?? Infinity), 1);
    case "darkSpell":
      return beyond(-lights.houseDark, -1 * promised.atMost, promised.atMost || 1);
    case "effectiveScenes":
      return beyond(effectiveScenes(parts.sameAtRandom), promised.atLeast, promised.atLeast || 1);
    case "zoneLit":
      return beyond(lights.zoneShare.get(promised.zone) ?? 1, promised.atLeast, 1);
    case "step":
    case "sceneLasts":
    case "anyHour":
    case "repeatOnReturn":
    case "repeatWithinStay":
    case "ratings":
      // judged on the record of the best arrangements
      return 0;
  }
}

function beyond(value: number, least: number, scale: number): number {
  return value >= least ? 0 : 1 + (least - value) / scale;
}
