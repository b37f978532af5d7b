import type { SceneRecord } from "../engine/record.js";
import { totals } from "./totals.js";

/** The scenes shown longest, with their share of the open time; of equal ones the one that came first. */
export function mostShown(record: SceneRecord, count: number): { scene: number; share: number }[] {
  const { open, sceneTime } = totals(record);
  // scenes are numbered as they come, and sorting leaves equal ones in their order
  return Array.from(sceneTime, (time, scene) => ({ scene, share: time / open }))
    .filter(({ share }) => share > 0)
    .sort((a, b) => b.share - a.share)
    .slice(0, count);
}
