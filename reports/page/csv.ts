import { toSeconds } from "../../sim/units/time.js";
import type { Figures } from "../../sim/figures/index.js";
import { eachSpell, type SceneRecord } from "../../sim/engine/record.js";
import { csv } from "../output/csv.js";
import { totals } from "../../sim/figures/totals.js";

/** All scenes shown: number, houses lit, share of the open time, seconds, spells. */
export function scenesCsv(record: SceneRecord): string {
  const { open, sceneTime } = totals(record);
  const spells = new Int32Array(record.scenes.length);
  eachSpell(record, (scene) => (spells[scene] = spells[scene]! + 1));
  const { houses } = record.scenario;
  const rows = Array.from(sceneTime, (time, scene) => {
    const lit = record.scenes.lit(scene);
    const names = lit.map((house) => houses[house]!.id).join(" ");
    return [scene + 1, lit.length, names, time / open, toSeconds(time), spells[scene]!];
  });
  return csv(["scene", "lit", "houses", "share", "seconds", "spells"], rows);
}

/** All houses: id, name, zone and the figures of each. */
export function housesCsv({ scenario }: SceneRecord, { houses }: Figures): string {
  const rows = houses.map((found, i) => {
    const { id, name, zone } = scenario.houses[i]!;
    return [id, name, zone ?? "", found.litShare, found.lightings, found.longestDarkSeconds, found.longestLitSeconds];
  });
  return csv(["house", "name", "zone", "litShare", "lightings", "longestDarkSeconds", "longestLitSeconds"], rows);
}
