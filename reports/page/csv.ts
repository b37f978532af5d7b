import { toSeconds } from "../../sim/units/time.js";
import type { Figures } from "../../sim/figures/index.js";
import { eachSpell, type SceneRecord } from "../../sim/engine/record.js";
import { csv, csvRow } from "../output/csv.js";
import { totals } from "../../sim/figures/totals.js";

/** Characters of a table that a spreadsheet still opens, and that memory holds beside everything else. */
const MOST = 64_000_000;

/** All scenes shown: number, houses lit, share of the open time, seconds, spells. Null where that would be longer than `most`. */
export function scenesCsv(record: SceneRecord, most = MOST): string | null {
  const { open, sceneTime } = totals(record);
  const spells = new Int32Array(record.scenes.length);
  eachSpell(record, (scene) => (spells[scene] = spells[scene]! + 1));
  const { houses } = record.scenario;
  let table = csv(["scene", "lit", "houses", "share", "seconds", "spells"], []);
  for (const [scene, time] of sceneTime.entries()) {
    const lit = record.scenes.lit(scene);
    const names = lit.map((house) => houses[house]!.id).join(" ");
    table += csvRow([scene + 1, lit.length, names, time / open, toSeconds(time), spells[scene]!]);
    if (table.length > most) return null;
  }
  return table;
}

/** All houses: id, name, zone and the figures of each. */
export function housesCsv({ scenario }: SceneRecord, { houses }: Figures): string {
  const rows = houses.map((found, i) => {
    const { id, name, zone } = scenario.houses[i]!;
    return [id, name, zone ?? "", found.litShare, found.lightings, found.longestDarkSeconds, found.longestLitSeconds];
  });
  return csv(["house", "name", "zone", "litShare", "lightings", "longestDarkSeconds", "longestLitSeconds"], rows);
}
