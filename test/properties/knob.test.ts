import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { knobChart } from "../../reports/cards/knob.js";
import { MM } from "../../reports/cards/sheet.js";
import { document } from "../paper.js";
import { knobFigures, roundMarks } from "../../sim/knob/index.js";
import { knobScale } from "../../sim/knob/scale.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { buildOf } from "../../sim/spread/index.js";
import { boardTimes } from "../../sim/timers/boardtimes.js";
import { sheetFaults } from "./sheets.js";
import { often } from "../thorough.js";


interface Knob {
  /** kΩ */
  readonly ra: number;
  readonly rb: number;
  readonly track: number;
  /** µF */
  readonly c: number;
  readonly where: "ra" | "rb";
  readonly taper: "linear" | "log";
  readonly divide: number;
  /** Share of the travel. */
  readonly dial: number;
  readonly leakage: string;
}

const knobs: fc.Arbitrary<Knob> = fc.record({
  ra: fc.integer({ min: 2, max: 200 }),
  rb: fc.integer({ min: 2, max: 900 }),
  track: fc.constantFrom(10, 100, 470, 1000),
  c: fc.constantFrom(1, 4.7, 22, 220),
  where: fc.constantFrom("ra", "rb"),
  taper: fc.constantFrom("linear", "log"),
  divide: fc.constantFrom(1, 1, 16, 4096),
  dial: fc.double({ min: 0.02, max: 0.98, noNaN: true }),
  leakage: fc.constantFrom("0 A", "0 A", "0.2 uA", "{ typical: 0.1 uA, limit: 0.4 uA }"),
});

function scenarioOf({ ra, rb, track, c, where, taper, divide, leakage }: Knob, setting: string): Scenario {
  return parseScenario(
    `lampdrift: 1\ntitle: Knob\nroom: { mean: 25 °C }\nhouses: { inn: , barn: }\nboards:\n  quay:\n    timer: { kind: astable, ra: ${ra}k 1%, rb: ${rb}k 5%, ` +
      `c: { value: ${c} uF ±10 %, leakage: ${leakage} }, divide: ${divide}, trimmer: { value: ${track}k 20%, in: ${where}, taper: ${taper} }, ${setting} }\n` +
      "    counter: { kind: ring, steps: 2 }\n    outputs: { 0: inn, 1: barn }\n",
    "knob.yaml",
  );
}

/** Step time with nominal parts and no leakage, by the formula of the data sheets: ln 2·(RA + 2·RB)·C a period. */
function closedForm({ ra, rb, track, c, where, taper, divide }: Knob, dial: number): number {
  // common practice, no source: 10 % at half travel, the exponential law through 0 and 1
  const share = taper === "linear" ? dial : (81 ** dial - 1) / 80;
  const ohms = 1e3 * (ra + 2 * rb + (where === "ra" ? 1 : 2) * track * share);
  return divide * Math.LN2 * ohms * c * 1e-6;
}

test("the scale is the closed form, and its inverse gives the place back", () => {
  fc.assert(
    fc.property(knobs, (any) => {
      const knob = { ...any, leakage: "0 A" };
      const scenario = scenarioOf(knob, `dial: ${knob.dial * 100} %`);
      const scale = knobScale(scenario, 0);
      expect(boardTimes(scenario)[0]!.stepSeconds / closedForm(knob, knob.dial)).toBeCloseTo(1, 9);
      for (const dial of [0, 0.1, 0.5, 0.9, 1]) {
        const seconds = closedForm(knob, dial);
        expect(scale.stepAt(dial) / seconds).toBeCloseTo(1, 9);
        expect(scale.dialAt(scale.stepAt(dial))).toBeCloseTo(dial, 8);
      }
    }),
    { seed: 81, numRuns: often(14, 60) },
  );
});

test("marks are round, rise along the dial, keep their distance, and stand where the step lasts what they say", () => {
  fc.assert(
    fc.property(knobs, fc.constantFrom(0.01, 0.03, 0.1), (knob, gap) => {
      const scale = knobScale(scenarioOf(knob, `dial: ${knob.dial * 100} %`), 0);
      const marks = roundMarks(scale, gap).flatMap((group) => group.marks.map((mark) => ({ ...mark, every: group.every })));
      const along = [...marks].sort((a, b) => a.dial - b.dial);
      along.forEach(({ dial, seconds, every }, i) => {
        expect(scale.stepAt(dial) / seconds).toBeCloseTo(1, 8);
        expect(Math.abs(seconds / every - Math.round(seconds / every))).toBeLessThan(1e-6);
        if (i === 0) return;
        expect(seconds).toBeGreaterThan(along[i - 1]!.seconds);
        expect(dial - along[i - 1]!.dial).toBeGreaterThan(gap * (1 - 1e-9));
      });
    }),
    { seed: 82, numRuns: often(14, 60) },
  );
});

describe("the band that tolerance leaves", () => {
  /** Deviations of builds drawn from the tolerances, and of the corners: each part at either limit. */
  const deviations = (scenario: Scenario, names: readonly string[]): Map<string, number>[] => {
    const drawn = Array.from({ length: 60 }, (_, i) => new Map(buildOf(scenario, i + 1).deviations));
    const corners = Array.from({ length: 2 ** names.length }, (_, n) => new Map(names.map((name, k) => [`quay.${name}`, (n >> k) & 1 ? 1 : -1])));
    return [...drawn, ...corners];
  };
  const parts = ["ra", "rb", "c", "trimmer", "leakage"];

  test("of a knob that stays holds the steps of all builds and corners, and ends at one of them", () => {
    fc.assert(
      fc.property(knobs, (knob) => {
        const scenario = scenarioOf(knob, `dial: ${knob.dial * 100} %`);
        const { from, to } = knobFigures(scenario, 0)!.stayBand!.all;
        const steps = deviations(scenario, parts).map((map) => boardTimes(scenario, { number: 1, deviations: map })[0]!.stepSeconds);
        expect(Math.min(...steps)).toBeGreaterThanOrEqual(from * (1 - 1e-9));
        expect(Math.min(...steps)).toBeLessThanOrEqual(from * (1 + 1e-9));
        if (to === Infinity) expect(steps).toContain(Infinity);
        else expect(Math.max(...steps) / to).toBeCloseTo(1, 9);
      }),
      { seed: 83, numRuns: often(10, 40) },
    );
  });

  test("of a knob that is set by stopwatch holds where it ends in all builds, and ends where one of them does", () => {
    fc.assert(
      fc.property(knobs, (any) => {
        const knob = { ...any, leakage: "0 A" };
        const wanted = closedForm(knob, knob.dial);
        const reading = Number(Math.min(3000, wanted / 200).toFixed(4));
        const scenario = scenarioOf(knob, `setTo: ${wanted.toFixed(6)} s, reading: ${reading} s`);
        const { all } = knobFigures(scenario, 0)!.setBand!;
        const nominal = { ra: knob.ra, rb: knob.rb, c: knob.c, trimmer: knob.track };
        const tolerance = { ra: 0.01, rb: 0.05, c: 0.1, trimmer: 0.2 };
        const step = Number(wanted.toFixed(6));
        // solved for the resistance by hand, the formula being linear in it
        const places = deviations(scenario, ["ra", "rb", "c", "trimmer", "reading"]).map((map) => {
          const part = (name: keyof typeof nominal): number => nominal[name] * (1 + tolerance[name] * (map.get(`quay.${name}`) ?? 0));
          const sum = (step + reading * (map.get("quay.reading") ?? 0)) / (knob.divide * Math.LN2 * 1e-3 * part("c"));
          const ohms = (sum - part("ra") - 2 * part("rb")) / (knob.where === "ra" ? 1 : 2);
          const share = Math.min(1, Math.max(0, ohms / part("trimmer")));
          return knob.taper === "linear" ? share : Math.log1p(share * 80) / Math.log(81);
        });
        expect(Math.min(...places)).toBeCloseTo(all.from, 6);
        expect(Math.max(...places)).toBeCloseTo(all.to, 6);
      }),
      { seed: 84, numRuns: often(14, 60) },
    );
  });
});

describe("the card", () => {
  const settings = (knob: Knob): string[] => [`dial: ${knob.dial * 100} %`, `setTo: ${closedForm(knob, knob.dial).toFixed(6)} s, reading: ${Math.min(3000, closedForm(knob, knob.dial) / 300).toFixed(4)} s`];

  test("overlaps nothing, leaves no sheet, and has a ruler of exactly 100 mm", () => {
    fc.assert(
      fc.property(knobs, fc.nat(1), (knob, which) => {
        const scenario = scenarioOf({ ...knob, leakage: "0 A" }, settings(knob)[which]!);
        const sheets = [...knobChart({ document, scenario, digest: "01234567", dated: null }, 0)];
        expect(sheets.length).toBeGreaterThan(0);
        for (const { svg } of sheets) expect(sheetFaults(svg)).toEqual([]);
        const { svg } = sheets[0]!;
        const drawn = Number(/h([\d.]+)$/.exec(svg.querySelector("[data-millimetres='100']")!.getAttribute("d")!)![1]);
        // what a unit of the drawing is on paper, by its own width in millimetres
        const unit = parseFloat(svg.getAttribute("width")!) / Number(svg.getAttribute("viewBox")!.split(" ")[2]);
        expect(svg.getAttribute("width")).toMatch(/^\d+mm$/);
        expect(drawn * unit).toBeCloseTo(100, 2);
        expect(drawn / MM).toBeCloseTo(100, 9);
      }),
      { seed: 85, numRuns: often(6, 20) },
    );
  });

  test("a timer that stalls on the way, a knob that does next to nothing, and one from a second to hours", () => {
    const knob: Knob = { ra: 47, rb: 100, track: 1000, c: 220, where: "rb", taper: "linear", divide: 1, dial: 0.3, leakage: "0 A" };
    const cases = [
      { ...knob, track: 10_000, where: "ra" as const, leakage: "0.6 uA" },
      { ...knob, track: 10_000, where: "ra" as const, leakage: "{ typical: 0.1 uA, limit: 3 uA }" },
      { ...knob, track: 0.001 },
      { ...knob, ra: 1, rb: 1, c: 330, track: 10_000, where: "ra" as const, taper: "log" as const, divide: 4 },
    ];
    for (const one of cases) {
      const scenario = scenarioOf(one, "dial: 5 %");
      const figures = knobFigures(scenario, 0)!;
      for (const { name, svg } of knobChart({ document, scenario, digest: "01234567", dated: null }, 0)) expect(sheetFaults(svg), name).toEqual([]);
      if (one.leakage === "0.6 uA") expect(figures.scale.stallsFrom).toBeGreaterThan(0.1);
    }
  });

  test("a board without a knob has none", () => {
    const text = "lampdrift: 1\ntitle: T\nhouses: { inn: }\nboards:\n  a: { timer: { kind: quartz, step: 9 s }, counter: { kind: ring, steps: 2 }, outputs: { 1: inn } }\n";
    expect(knobChart({ document, scenario: parseScenario(text, "t.yaml"), digest: "01234567", dated: null }, 0)).toEqual([]);
  });
});
