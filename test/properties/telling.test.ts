import { expect, test } from "vitest";
import { figures, readScenario, simulate } from "../../sim/index.js";
import { tellingScenes } from "../../sim/figures/telling.js";
import { totals } from "../../sim/figures/totals.js";
import { demo, demos } from "../endtoend/command.js";

test.each(demos)("the scenes that tell what %s looks like are the brightest, the darkest, and the one nearest to all moments", async (name) => {
  const scenario = await readScenario(demo(name));
  const record = simulate({ ...scenario, opening: { ...scenario.opening, run: 1 } });
  const told = tellingScenes(record, figures(record).houses);
  const { sceneTime, open } = totals(record);
  const shown = Array.from(sceneTime, (time, scene) => ({ time, lit: new Set(record.scenes.lit(scene)) })).filter(({ time }) => time > 0);
  const counts = shown.map(({ lit }) => lit.size);
  expect(record.scenes.lit(told.brightest).length).toBe(Math.max(...counts));
  expect(record.scenes.lit(told.darkest).length).toBe(Math.min(...counts));
  // the mean number of houses by which a scene differs from all that is shown, moment by moment
  const houses = record.scenario.houses.map((_, house) => house);
  const from = (mine: Set<number>): number =>
    shown.reduce((sum, { time, lit }) => sum + (time / open) * houses.filter((house) => mine.has(house) !== lit.has(house)).length, 0);
  expect(from(new Set(record.scenes.lit(told.typical)))).toBeCloseTo(told.typicalDifference, 9);
  // held against every so manieth of the others
  for (let i = 0; i < shown.length; i += Math.ceil(shown.length / 20)) expect(from(shown[i]!.lit)).toBeGreaterThan(told.typicalDifference - 1e-9);
});
