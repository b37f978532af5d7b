import { expect, test } from "vitest";
import { headlines } from "../../sim/figures/headlines.js";
import { Measures } from "../../sim/figures/measures.js";
import { figures, parseScenario, simulate, type SceneRecord } from "../../sim/index.js";

/** Thirty houses; a table of one lit house a step, each for a minute or two. */
function display(steps: readonly number[], hold: readonly number[]): SceneRecord {
  const houses = Array.from({ length: 30 }, (_, i) => `h${i}`);
  const text = `{ lampdrift: 1, title: Thirty, opening: { from: "10:00", until: "13:00", run: 2 }, visitors: { stay: 5 min, returns: [6 min, 12 min] },
    houses: { ${houses.map((house) => `${house}: `).join(", ")} }, boards: { q: { timer: { kind: quartz, step: 1 min },
      counter: { kind: table, steps: [${steps.map((step) => `[${step}]`).join(", ")}], hold: [${hold.join(", ")}] }, outputs: { ${[...new Set(steps)].map((step) => `${step}: h${step}`).join(", ")} } } } }`;
  return simulate(parseScenario(text, "thirty.yaml"));
}

test("a display that is more varied in every respect is better in every headline figure that has a better side", () => {
  // two houses in turn, one of them for two minutes, against thirty one after the other
  const [dull, lively] = [display([0, 1], [1, 2]), display(Array.from({ length: 30 }, (_, i) => i), new Array<number>(30).fill(1))];
  const [before, after] = [new Measures(dull), new Measures(lively)];
  const sides = headlines(dull.scenario.visitors).map((headline) => {
    const change = headline.of(after)! - headline.of(before)!;
    return [headline.key, headline.better, change > 0 ? "more" : change < 0 ? "less" : "even"];
  });
  const changed = sides.filter(([, better, change]) => better !== null && change !== "even");
  for (const [key, better, change] of changed) expect(change, String(key)).toBe(better);
  expect(changed.length).toBeGreaterThanOrEqual(10);
});

test("every headline figure is that of the run, by the name that it has there", () => {
  const record = display([0, 1, 2, 0, 3], [1, 2, 1, 1, 1]);
  const found = figures(record);
  const measures = new Measures(record);
  for (const headline of headlines(record.scenario.visitors)) {
    const { key } = headline;
    const path = key.split(/[.[\]]+/);
    const printed =
      key === "houses.longestDarkSeconds"
        ? Math.max(...found.houses.map(({ longestDarkSeconds }) => longestDarkSeconds))
        : path.reduce<unknown>((value, part) => (value as Record<string, unknown>)[part], found);
    expect(headline.of(measures), key).toBeCloseTo(printed as number, 12);
  }
});
