import { describe, expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import { figures } from "../../sim/figures/index.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { fewestScenesInAnyHour, repeatShare, visitFigures } from "../oracle/figures.js";
import { often } from "../thorough.js";
import { calmSeeds, randomDisplay } from "./randomdisplays.js";

/** Some displays with few enough spells that counting by hand is quick. */
const seeds = calmSeeds(often(7, 20), 2500);

/** Equal but for the rounding of sums; null only where the other is null. */
function expectNear(found: number | null, wanted: number | null, what: string): void {
  if (found === null || wanted === null) {
    expect(found, what).toBe(wanted);
    return;
  }
  expect(Number.isFinite(found), `${what} is ${found}, not a number`).toBe(true);
  expect(Math.abs(found - wanted), `${what}: ${found}, by hand ${wanted}`).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(wanted)));
}

describe("what visitors see, against counting by hand, on random displays", () => {
  test.each(seeds)("display %i", { timeout: 30_000 }, (seed) => {
    const { spec, shown, found } = randomDisplay(seed);

    expect(found.repeat.returns.map((row) => row.afterSeconds)).toEqual(spec.visitors.returns);
    for (const { afterSeconds, share } of found.repeat.returns) {
      expectNear(share, repeatShare(shown, afterSeconds), `same scene after ${afterSeconds} s`);
    }
    expect(found.repeat.curve.map((row) => row.afterSeconds)).toEqual(Array.from({ length: 720 }, (_, i) => 15 * (i + 1)));
    for (const i of [0, 1, 3, 10, 39, 239, 719]) {
      const { afterSeconds, share } = found.repeat.curve[i]!;
      expectNear(share, repeatShare(shown, afterSeconds), `curve at ${afterSeconds} s`);
    }

    const visit = visitFigures(shown, spec.visitors.stay);
    expect(found.visit.staySeconds).toBe(spec.visitors.stay);
    expectNear(found.visit.distinctScenes, visit?.distinctScenes ?? null, "distinctScenes");
    expectNear(found.visit.changesSeen, visit?.changesSeen ?? null, "changesSeen");
    expectNear(found.visit.repeatShare, visit?.repeatShare ?? null, "repeatShare");
    expect(found.visit.repeatCurve.map((row) => row.staySeconds)).toEqual(Array.from({ length: 120 }, (_, i) => 60 * (i + 1)));
    for (const i of [0, 2, 9, 29, 59, 119]) {
      const { staySeconds, share } = found.visit.repeatCurve[i]!;
      expectNear(share, visitFigures(shown, staySeconds)?.repeatShare ?? null, `repeat within ${staySeconds} s`);
    }

    expect(found.anyHour.fewestScenes).toBe(fewestScenesInAnyHour(shown));
  });
});

describe("what visitors see, by hand", () => {
  /** Houses that a ring lights one after the other, in one opening from ten o'clock on. */
  const found = (step: string, steps: number, until: string, stay: string) =>
    figures(
      simulate(
        parseScenario(
          `{ lampdrift: 1, title: Ring, opening: { from: "10:00", until: "${until}", run: 1 }, visitors: { stay: ${stay} },
             houses: { ${Array.from({ length: steps }, (_, s) => `h${s}: `).join(", ")} },
             boards: { q: { timer: { kind: quartz, step: ${step} }, counter: { kind: ring, steps: ${steps} }, outputs: { ${Array.from({ length: steps }, (_, s) => `${s}: h${s}`).join(", ")} } } } }`,
          "ring.yaml",
        ),
      ),
    );

  test("a scene that goes as the hour begins is not of that hour", () => {
    expect(found("20 min", 9, "13:00", "5 min").anyHour.fewestScenes).toBe(3);
    expect(found("20 min 0.000001 s", 9, "13:00", "5 min").anyHour.fewestScenes).toBe(3);
  });

  test("whoever stays for two steps and a half of a ring of two sees both come back, however fast it goes", () => {
    // the scene of the arrival is back when the other has gone, at most two steps later
    expect(found("0.4 s", 2, "10:02", "1 s").visit.repeatShare).toBeCloseTo(1, 12);
  });
});
