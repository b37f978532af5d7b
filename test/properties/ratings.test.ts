import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import { leakageBudget, LARGEST_SHARE, ratings, verdictOf, type Rating } from "../../sim/ratings/index.js";
import { demandOf, utmostDemand } from "../../sim/ratings/demand.js";
import { inputAmps } from "../../sim/ratings/own.js";
import { driverPackages } from "../../sim/parts/packages.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { often } from "../thorough.js";

const SETTINGS = { seed: 20240611, numRuns: often(20, 100) };

/** A display of boards with whole-second quartz steps, whose currents can be reckoned second by second. */
interface Plan {
  readonly overnight: "on" | "off";
  readonly volts: number;
  readonly boards: readonly {
    readonly step: number;
    readonly driver: "darlington-8" | "mosfet";
    /** Ring counter; lamps of kind 0 and 1 on each output. */
    readonly outputs: readonly (readonly [number, number])[];
  }[];
}

/** milliampere of the two kinds; the second is rated 12 V. */
const MILLI = [17, 250];
const [OPEN, CLOSE, DAYS] = [36_000, 37_200, 2];

const plan: fc.Arbitrary<Plan> = fc.record({
  overnight: fc.constantFrom("on" as const, "off" as const),
  volts: fc.constantFrom(5, 9, 12, 13.5),
  boards: fc.array(
    fc.record({
      step: fc.integer({ min: 3, max: 200 }),
      driver: fc.constantFrom("darlington-8" as const, "mosfet" as const),
      outputs: fc.array(fc.tuple(fc.nat(4), fc.nat(2)), { minLength: 2, maxLength: 10 }),
    }),
    { minLength: 1, maxLength: 3 },
  ),
});

function yaml({ overnight, volts, boards }: Plan): string {
  const text = boards.map(({ step, driver, outputs }, b) => {
    const loads = outputs.map((lamps, o) => {
      const each = lamps.flatMap((n, kind) => (n > 0 ? [`{ house: h${b}x${o}, lamps: ${n}, lamp: k${kind} }`] : []));
      return `${o}: [${each.join(", ")}]`;
    });
    return `b${b}: { timer: { kind: quartz, step: ${step} }, driver: { kind: ${driver} }, counter: { kind: ring, steps: ${outputs.length} }, outputs: { ${loads.join(", ")} } }`;
  });
  const houses = boards.flatMap(({ outputs }, b) => outputs.map((_, o) => `h${b}x${o}: {}`));
  return `{ lampdrift: 1, title: t, opening: { from: "10:00", until: "10:20", run: ${DAYS}, overnight: ${overnight} }, supply: { volts: ${volts}, limit: 2 A },
    lamps: { k0: { amps: ${MILLI[0]} mA }, k1: { volts: 12 V, watts: ${(12 * MILLI[1]!) / 1000} } }, houses: { ${houses.join(", ")} }, boards: { ${text.join(", ")} } }`;
}

function rate(display: Plan): Rating[] {
  const scenario = parseScenario(yaml(display), "t.yaml");
  return ratings(scenario, simulate(scenario, { trace: true }));
}

/**
 * What a board takes besides lamps: a controller that nothing is known of counts as a bipolar timer (15 mA: Fairchild LM555
 * rev 1.1.0, p. 3) and a counter (0.6 mA, from memory); a Darlington input takes what the counter's output gives (the
 * counter output current that is rated).
 */
function ownMilli(display: Plan, driver: string, driven: boolean): number {
  if (driver === "mosfet" || !driven) return 15.6;
  return 15.6 + 1000 * inputAmps(display.volts);
}

/** Milliampere of the whole display in every open second. */
function bySecond(display: Plan): { at: number; milli: number }[] {
  const { overnight, boards } = display;
  const seconds: { at: number; milli: number }[] = [];
  for (let day = 0; day < DAYS; day++) {
    for (let s = OPEN; s < CLOSE; s++) {
      const powered = overnight === "on" ? day * 86_400 + s - OPEN : s - OPEN;
      let milli = 0;
      for (const { step, driver, outputs } of boards) {
        const [a, b] = outputs[Math.floor(powered / step) % outputs.length]!;
        milli += a * MILLI[0]! + b * MILLI[1]! + ownMilli(display, driver, a + b > 0);
      }
      seconds.push({ at: day * 86_400 + s, milli });
    }
  }
  return seconds;
}

describe("what the lamps ask", () => {
  test("worst moment and mean are those found second by second", () => {
    fc.assert(
      fc.property(plan, (display) => {
        const { total, mean } = demandOf(simulate(parseScenario(yaml(display), "t.yaml"), { trace: true }));
        const seconds = bySecond(display);
        const most = Math.max(...seconds.map(({ milli }) => milli));
        expect(total.value).toBeCloseTo(most / 1000, 9);
        expect(mean).toBeCloseTo(seconds.reduce((sum, { milli }) => sum + milli, 0) / seconds.length / 1000, 9);
        // currents are sums of doubles: of two moments with the same lamps lit in another order either may come first
        expect(seconds.find(({ at }) => at === total.worst!.at / 1e6)?.milli).toBeCloseTo(most, 6);
      }),
      SETTINGS,
    );
  });
});

describe("the most that any build can ask", () => {
  test("is never less than what a record asks, board by board and all together", () => {
    fc.assert(
      fc.property(plan, (display) => {
        const scenario = parseScenario(yaml(display), "t.yaml");
        const asked = demandOf(simulate(scenario, { trace: true }));
        const utmost = utmostDemand(scenario);
        expect(utmost.total.value).toBeGreaterThanOrEqual(asked.total.value - 1e-12);
        expect(utmost.mean).toBeGreaterThanOrEqual(asked.mean - 1e-12);
        scenario.boards.forEach((_, b) => {
          const amps = (on: readonly number[]): number => on.reduce((sum, output) => sum + (asked.outputAmps[b]![output] ?? 0), 0);
          expect(utmost.peakOfBoard(b, amps).value).toBeGreaterThanOrEqual(asked.peakOfBoard(b, amps).value);
        });
      }),
      SETTINGS,
    );
  });
});

describe("ratings", () => {
  test("every verdict follows from its share, and every row is a number", () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(plan, (display) => {
        for (const { value, limit, share, verdict, advice } of rate(display)) {
          expect(Number.isFinite(value) && Number.isFinite(limit) && share >= 0 && share <= LARGEST_SHARE).toBe(true);
          expect(verdict).toBe(share <= 0.8 + 1e-9 ? "within" : share <= 1 + 1e-9 ? "close" : "over");
          expect(verdict).toBe(verdictOf(share));
          expect(advice === null).toBe(verdict === "within");
          const used = [value / limit, limit / value].map((ratio) => Math.abs(ratio - share) < 1e-9);
          expect(used.includes(true) || share === LARGEST_SHARE).toBe(true);
          seen.add(verdict);
        }
      }),
      SETTINGS,
    );
    expect([...seen].sort()).toEqual(["close", "over", "within"]);
  });

  test("lamps more never lower a share, save that of a lamp whose voltage is too high", () => {
    const more = fc.record({ board: fc.nat(), output: fc.nat(), kind: fc.nat(1), lamps: fc.integer({ min: 1, max: 5 }) });
    fc.assert(
      fc.property(plan, more, (display, { board, output, kind, lamps }) => {
        const b = board % display.boards.length;
        const o = output % display.boards[b]!.outputs.length;
        const added = ([zero, one]: readonly [number, number]): [number, number] => (kind === 0 ? [zero + lamps, one] : [zero, one + lamps]);
        // a first lamp on an output would change how channels share packages
        fc.pre(display.boards[b]!.outputs[o]![kind]! > 0);
        const boards = display.boards.map((one, i) =>
          i === b ? { ...one, outputs: one.outputs.map((each, j) => (j === o ? added(each) : each)) } : one,
        );
        const plain = rate(display);
        const fuller = rate({ ...display, boards });
        expect(fuller.map(({ what }) => what)).toEqual(plain.map(({ what }) => what));
        plain.forEach((row, r) => {
          if (row.what === "lamp voltage" && row.value > row.limit && row.verdict === "over") return;
          expect(fuller[r]!.share).toBeGreaterThanOrEqual(row.share - 1e-12);
        });
      }),
      SETTINGS,
    );
  });

  test("packages hold every connected output once, in order, and share them evenly", () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { maxLength: 60 }), (connected) => {
        const outputs = connected.map((yes) => (yes ? [{ house: 0, lamps: 1, lamp: 0 }] : []));
        const packages = driverPackages({ driver: { kind: "darlington-8", thermal: null }, outputs });
        expect(packages.flat()).toEqual(connected.flatMap((yes, o) => (yes ? [o] : [])));
        const sizes = packages.map(({ length }) => length);
        expect(packages).toHaveLength(Math.ceil(packages.flat().length / 8));
        if (sizes.length > 0) {
          expect(Math.max(...sizes)).toBeLessThanOrEqual(8);
          expect(Math.max(...sizes) - Math.min(...sizes)).toBeLessThanOrEqual(1);
        }
      }),
      SETTINGS,
    );
  });
});

describe("leakage budget", () => {
  const ohms = fc.double({ min: 1e3, max: 5e6, noNaN: true });

  test("less for larger resistors, more for a higher supply, and never more than the stall", () => {
    fc.assert(
      fc.property(ohms, ohms, fc.double({ min: 2, max: 30, noNaN: true }), fc.double({ min: 1.01, max: 3, noNaN: true }), (ra, rb, volts, factor) => {
        const budget = leakageBudget(volts, ra + rb, rb, 0);
        expect(budget.within5Percent).toBeGreaterThan(0);
        expect(budget.within5Percent).toBeLessThanOrEqual(budget.stall);
        const larger = leakageBudget(volts, factor * (ra + rb), factor * rb, 0);
        expect(larger.within5Percent).toBeCloseTo(budget.within5Percent / factor, 12);
        const higher = leakageBudget(volts * factor, ra + rb, rb, 0);
        expect(higher.within5Percent / budget.within5Percent).toBeCloseTo(factor, 6);
      }),
      SETTINGS,
    );
  });
});
