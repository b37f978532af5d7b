import { describe, expect, test } from "vitest";
import { stream } from "../../sim/random/streams.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { buildOf, builds, stepSources } from "../../sim/spread/index.js";
import { meanStep } from "../../sim/promises/steps.js";
import { deviation } from "../../sim/spread/draw.js";
import { quantiles } from "../../sim/spread/quantiles.js";

const EVEN = { minus: 1, plus: 1 };
const source = stream("propagation", 0, "test", "parts");
/** A rectangular deviation of standard deviation 1, drawn as the deviations of parts are. */
const rectangular = (): number => Math.sqrt(3) * deviation(EVEN, source.uniform(), null);
const drawn = (count: number, one: () => number): Float64Array => Float64Array.from({ length: count }, one);

/** Half the width of the middle 95 %, from sorted values. */
function half95(values: Float64Array): number {
  const sorted = values.slice().sort();
  const at = (p: number): number => sorted[Math.round(p * (sorted.length - 1))]!;
  return (at(0.975) - at(0.025)) / 2;
}

const standardDeviation = (values: Float64Array): number => {
  const mean = values.reduce((sum, x) => sum + x, 0) / values.length;
  return Math.sqrt(values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (values.length - 1));
};

describe("propagation of distributions", () => {
  // JCGM 101:2008, 9.2.3, table 3: four rectangular inputs of standard deviation 1; exact 2·√3·(2 − 0.6^¼) = 3.879406741
  test("sum of four rectangular inputs: u 2.0, 95 % within ±3.88", () => {
    const sums = drawn(400_000, () => rectangular() + rectangular() + rectangular() + rectangular());
    expect(Math.abs(standardDeviation(sums) - 2)).toBeLessThan(0.01);
    expect(Math.abs(half95(sums) - 3.879406741347821)).toBeLessThan(0.015);
  });

  // NPL DEM-ES-011, section 9.2: y = ln x, x uniform on 0.1 … 1.1: mean −0.664900293, standard deviation 0.606226697
  test("logarithm of a rectangular input", () => {
    const logs = drawn(400_000, () => Math.log(0.6 + 0.5 * deviation(EVEN, source.uniform(), null)));
    expect(Math.abs(logs.reduce((sum, y) => sum + y, 0) / logs.length + 0.664900293)).toBeLessThan(0.005);
    expect(Math.abs(standardDeviation(logs) - 0.606226697)).toBeLessThan(0.005);
  });
});

/** An ideal timer whose step time is ln 2·R·C with R = RA + 2·RB; RA is exact and small beside RB. */
const product = (tolerance: string): string => `lampdrift: 1
title: Product
opening: { from: "10:00", until: "11:00", run: 1 }
houses: { a: }
boards:
  one:
    timer: { kind: astable, ra: { value: 1e-9, tolerance: 0 }, rb: 1M ${tolerance}, c: { value: 100 uF, tolerance: ${JSON.stringify(tolerance)}, leakage: 0 } }
    counter: { kind: ring, steps: 2 }
    outputs: { 0: a }
`;

describe("step time of R and C, both rectangular", () => {
  // With U = R/R0 and V = C/C0 uniform on [1 − t, 1 + t], P(U·V ≤ w) by integration, derived from first principles:
  // (1/4t²)·∫ clamp(w/u, 1 − t, 1 + t) − (1 − t) du over u in [1 − t, 1 + t]
  const t = 0.2;
  const exact = (w: number): number => {
    const low = 1 - t;
    const high = 1 + t;
    const inner = (u: number): number => w * Math.log(u) - low * u;
    const full = Math.min(high, Math.max(low, w / high));
    const none = Math.min(high, Math.max(low, w / low));
    return ((full - low) * 2 * t + inner(none) - inner(full)) / (4 * t * t);
  };

  test("has the exact distribution of the product of two rectangular variables", () => {
    const scenario = parseScenario(product("±20 %"), "product.yaml");
    const seconds = meanStep(scenario);
    const nominal = Math.LN2 * 2e6 * 1e-4;
    const draw = builds(scenario);
    const n = 20_000;
    const values = Float64Array.from({ length: n }, (_, i) => seconds(0, draw(i + 1)) / nominal).sort();
    let far = 0;
    values.forEach((w, i) => {
      far = Math.max(far, Math.abs(exact(w) - i / n), Math.abs(exact(w) - (i + 1) / n));
    });
    // Kolmogorov's limit law: more than 2.7/√n is met once in about two million times
    expect(far).toBeLessThan(2.7 / Math.sqrt(n));
    expect(exact(0.64)).toBeCloseTo(0, 12);
    expect(exact(1.44)).toBeCloseTo(1, 12);
  });

  test("worst corners and root sum square are those worked by hand", () => {
    const scenario = parseScenario(product("±10 %"), "product.yaml");
    const [{ nominal, worstCase, rootSumSquare, parts }] = stepSources(scenario) as [ReturnType<typeof stepSources>[number]];
    // T = ln 2·2·1 MΩ·100 µF = 138.629436112 s; corners 0.9² and 1.1² of it; root of 0.1² + 0.1² is 14.142136 % of it
    expect(nominal).toBeCloseTo(138.629436112, 8);
    expect(worstCase.min! / nominal).toBeCloseTo(0.81, 9);
    expect(worstCase.max! / nominal).toBeCloseTo(1.21, 9);
    expect(rootSumSquare.min! / nominal).toBeCloseTo(1 - 0.1414213562, 8);
    expect(rootSumSquare.max! / nominal).toBeCloseTo(1.1414213562, 8);
    expect(parts.map(({ share }) => share)).toEqual([expect.closeTo(0.5, 9), expect.closeTo(0.5, 9)]);
  });
});

test("a tolerance read as normal is a limit at three standard deviations", () => {
  const scenario = parseScenario(`${product("±20 %")}spread: { shape: normal }\n`, "product.yaml");
  const found = Float64Array.from({ length: 20_000 }, (_, i) => buildOf(scenario, i + 1).deviations.get("one.c")!);
  // truncated at 3 standard deviations, a normal deviate has 0.986578 of its standard deviation (from its density)
  expect(Math.abs(standardDeviation(found) * 3 - 0.986578)).toBeLessThan(0.025);
  const { min, max } = quantiles(found)!;
  expect(Math.max(-min, max)).toBeLessThanOrEqual(1);
});
