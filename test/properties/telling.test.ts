import { expect, test } from "vitest";
import { figures, readScenario, simulate } from "../../sim/index.js";
import { mostShown } from "../../sim/figures/mostshown.js";
import { tellingScenes } from "../../sim/figures/telling.js";
import { totals } from "../../sim/figures/totals.js";
import { demo, demos } from "../endtoend/command.js";
import { MINUTE, recordOf } from "./records.js";

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

/** One opening that shows these scenes, each for so many minutes; scene n has the houses lit whose bits n has. */
const shown = (...spells: readonly (readonly [scene: number, minutes: number])[]) =>
  recordOf([{ gap: 0, spells: spells.map(([scene, minutes]) => ({ scene, length: minutes * MINUTE })) }]);

test("the scenes shown longest, of equal ones the one that came first; none that was never shown", () => {
  // 2 + 3, 4, 5 and 6 of twenty minutes; of five scenes scene 4 is never shown
  expect(mostShown(shown([0, 2], [1, 4], [0, 3], [2, 5], [3, 6], [5, 0]), 9).map(({ scene, share }) => [scene, share * 20])).toEqual([[3, 6], [0, 5], [2, 5], [1, 4]]);
  expect(mostShown(shown([0, 2], [1, 2], [2, 2]), 2).map(({ scene }) => scene)).toEqual([0, 1]);
});

test("of scenes with as many houses lit the one shown longest tells, and of those the first", () => {
  // scenes 1, 2 and 4 light one house each, 3, 5 and 6 two
  const record = shown([1, 5], [3, 2], [2, 6], [5, 2], [4, 6], [6, 1]);
  const { sceneTime, open } = totals(record);
  const litShare = [0, 1, 2].map((house) => [1, 2, 3, 4, 5, 6].reduce((sum, scene) => sum + ((scene >> house) & 1) * sceneTime[scene]!, 0) / open);
  const { brightest, darkest } = tellingScenes(record, [...litShare, 0, 0, 0].map((share) => ({ id: "", litShare: share, lightings: 0, longestDarkSeconds: 0, longestLitSeconds: 0 })));
  expect({ brightest, darkest }).toEqual({ brightest: 3, darkest: 2 });
});
