import { describe, expect, test } from "vitest";
import { stream } from "../../sim/random/streams.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { buildOf, builds, stepSources } from "../../sim/spread/index.js";
import { meanStep } from "../../sim/steptimes/index.js";
import { deviation } from "../../sim/builds/draw.js";
import { quantiles } from "../../sim/statistics/quantiles.js";

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

describe("propagation where the Gaussian rule fails", () => {
  // JCGM 101:2008, 9.2.4, table 4: three rectangular inputs of standard deviation 1 and one of 10; exact 95 % end 17.0158141,
  // where the Gaussian rule says 19.9
  test("one rectangular input above the others: u 10.1, 95 % within ±17.0", () => {
    const sums = drawn(400_000, () => rectangular() + rectangular() + rectangular() + 10 * rectangular());
    expect(Math.abs(standardDeviation(sums) - 10.1488916)).toBeLessThan(0.05);
    expect(Math.abs(half95(sums) - 17.0158141)).toBeLessThan(0.05);
  });

  // NPL DEM-ES-011, section 9.2: the shortest 95 % of ln x, exactly −1.897119985 (printed, simulated: −1.895) to 0.095310180
  test("the shortest 95 % of a logarithm lies at its upper end", () => {
    const logs = drawn(400_000, () => Math.log(0.6 + 0.5 * deviation(EVEN, source.uniform(), null))).sort();
    const inside = Math.floor(0.95 * logs.length);
    let best = 0;
    for (let i = 0; i + inside < logs.length; i++) {
      if (logs[i + inside]! - logs[i]! < logs[best + inside]! - logs[best]!) best = i;
    }
    expect(Math.abs(logs[best]! + 1.897119985)).toBeLessThan(0.01);
    expect(Math.abs(logs[best + inside]! - 0.09531018)).toBeLessThan(0.001);
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

/** The largest distance between the distribution of `values` and one that is uniform on low … high. */
function fromUniform(values: readonly number[], low: number, high: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted.reduce((far, x, i) => {
    const wanted = (x - low) / (high - low);
    return Math.max(far, Math.abs(wanted - i / sorted.length), Math.abs(wanted - (i + 1) / sorted.length));
  }, 0);
}

/** One board; RA, RB and C as given. */
const timer = (parts: string, more = ""): string => `lampdrift: 1
title: Timer
opening: { from: "10:00", until: "11:00", run: 1 }
houses: { a: }
boards:
  one:
    timer: { kind: astable, ${parts} }
    counter: { kind: ring, steps: 3 }
    outputs: { 0: a }
${more}`;

describe("limits that are not the same on both sides", () => {
  const lopsided = timer('ra: { value: 47k, tolerance: ±5 % }, rb: 100k ±2 %, c: { value: 100 uF, tolerance: "+50/-20 %", leakage: 0 }');
  const n = 20_000;
  const drawnFrom = (text: string, key: string): number[] => {
    const draw = builds(parseScenario(text, "lopsided.yaml"));
    return Array.from({ length: n }, (_, i) => draw(i + 1).deviations.get(key)!);
  };

  test("the actual value is uniform between them", () => {
    const values = drawnFrom(lopsided, "one.c").map((x) => 1 + x * (x < 0 ? 0.2 : 0.5));
    // Kolmogorov's limit law: met once in about two million times
    expect(fromUniform(values, 0.8, 1.5)).toBeLessThan(2.7 / Math.sqrt(n));
  });

  test("read as normal, the value lies above nominal as often as that side is wide, and half a bell either way", () => {
    const found = drawnFrom(`${lopsided}spread: { shape: normal }\n`, "one.c");
    const above = found.filter((x) => x > 0).length / n;
    // 4.9 standard deviations: about once in a million times
    expect(Math.abs(above - 5 / 7)).toBeLessThan(4.9 * Math.sqrt((5 * 2) / 49 / n));
    for (const side of [found.filter((x) => x > 0), found.filter((x) => x < 0)]) {
      const square = side.reduce((sum, x) => sum + (3 * x) ** 2, 0) / side.length;
      // second moment of a normal deviate truncated at 3: 0.973337 (= 1 − 6φ(3)/(2Φ(3) − 1)), whose own spread is 1.32
      expect(Math.abs(square - 0.973337)).toBeLessThan((4.9 * 1.32) / Math.sqrt(side.length));
    }
  });

  test("worst corners, root sum square and shares are those worked by hand", () => {
    const [found] = stepSources(parseScenario(lopsided, "lopsided.yaml"));
    // T = ln 2·(RA + 2·RB)·C: RA is 47/247 of the resistance and RB, twice, 200/247
    const ra = 47 / 247;
    const rb = 200 / 247;
    const { nominal, worstCase, rootSumSquare, parts } = found!;
    expect(nominal).toBeCloseTo(Math.LN2 * 24.7, 9);
    expect(worstCase.min! / nominal).toBeCloseTo((1 - 0.05 * ra - 0.02 * rb) * 0.8, 9);
    expect(worstCase.max! / nominal).toBeCloseTo((1 + 0.05 * ra + 0.02 * rb) * 1.5, 9);
    expect(rootSumSquare.min! / nominal).toBeCloseTo(1 - Math.hypot(0.05 * ra, 0.02 * rb, 0.2), 9);
    expect(rootSumSquare.max! / nominal).toBeCloseTo(1 + Math.hypot(0.05 * ra, 0.02 * rb, 0.5), 9);
    // variance of a uniform value: width²/12
    const variances = [0.7 ** 2, (0.04 * rb) ** 2, (0.1 * ra) ** 2];
    const all = variances.reduce((sum, variance) => sum + variance, 0);
    expect(parts.map(({ part }) => part)).toEqual(["one.c", "one.rb", "one.ra"]);
    parts.forEach(({ share }, i) => expect(share).toBeCloseTo(variances[i]! / all, 6));
  });
});

describe("a capacitor that leaks", () => {
  // to first order in the leakage I the step time grows by 1.5·RA·I/(V·ln 2): the derivative at I = 0 of R1·C·ln((V∞ − V/3)/(V∞ − 2V/3)) + R2·C·ln((2V/3 + I·R2)/(V/3 + I·R2))
  const limit = 10e-9;
  const growth = (1.5 * 1e6 * limit) / (12 * Math.LN2);
  const leaky = timer("ra: { value: 1M, tolerance: 0 }, rb: { value: 1M, tolerance: 0 }, c: { value: 10 uF, tolerance: 0.1 %, leakage: { typical: 1 nA, limit: 10 nA } }");

  test.each([
    ["rectangular", 0.001 ** 2 / 3],
    // truncated at 3 standard deviations, a normal deviate has 0.986578 of its standard deviation
    ["normal", ((0.001 / 3) * 0.986578) ** 2],
  ])("tolerances read as %s: the leakage has its share in the spread, always as a rectangular value", (shape, ofC) => {
    const scenario = parseScenario(`${leaky}spread: { shape: ${shape} }\n`, "leaky.yaml");
    const [{ parts }] = stepSources(scenario) as [ReturnType<typeof stepSources>[number]];
    const ofLeakage = growth ** 2 / 12;
    expect(parts.find(({ part }) => part === "one.leakage")!.share).toBeCloseTo(ofLeakage / (ofLeakage + ofC), 2);
    const n = 5000;
    const drawnLeakage = Array.from({ length: n }, (_, i) => buildOf(scenario, i + 1).deviations.get("one.leakage")!);
    expect(fromUniform(drawnLeakage, -1, 1)).toBeLessThan(2.7 / Math.sqrt(n));
  });

  test("a corner that stalls has no longest step; what does not stall is counted on", () => {
    // (V/3)/(RA + RB) = 3.636 µA
    const text = timer("ra: { value: 100k, tolerance: 0 }, rb: { value: 1M, tolerance: 0 }, c: { value: 10 uF, tolerance: 0, leakage: { typical: 0.1 uA, limit: 5 uA } }");
    const [{ nominal, worstCase, rootSumSquare, parts }] = stepSources(parseScenario(text, "stalls.yaml")) as [ReturnType<typeof stepSources>[number]];
    expect(worstCase.max).toBeNull();
    expect(rootSumSquare.max).toBeNull();
    // without any leakage
    expect(worstCase.min).toBeCloseTo(Math.LN2 * 2.1e6 * 1e-5, 9);
    expect(worstCase.min).toBeLessThan(nominal);
    expect(parts).toEqual([{ part: "one.leakage", share: 1 }]);
  });
});

test("a knob set by stopwatch leaves nothing but the reading; a board clocked by a carry has the sources of its clock", () => {
  const text = timer(
    "ra: 10k ±5 %, rb: 100k ±5 %, c: { value: 100 uF, tolerance: ±10 %, leakage: 0 }, trimmer: { value: 100k ±10 %, in: rb }, setTo: 20 s, reading: 0.5 s",
  ).replace("boards:", "boards:\n  two: { timer: { kind: carry, from: one }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } }");
  const [two, one] = stepSources(parseScenario(text, "set.yaml"));
  expect(one!.parts.map(({ part, share }) => [part, share]).slice(0, 2)).toEqual([["one.reading", 1], [expect.any(String), 0]]);
  expect(one!.worstCase).toEqual({ min: expect.closeTo(19.5, 6) as number, max: expect.closeTo(20.5, 6) as number });
  expect(two!.nominal).toBeCloseTo(3 * 20, 6);
  expect(two!.worstCase).toEqual({ min: expect.closeTo(58.5, 6) as number, max: expect.closeTo(61.5, 6) as number });
  expect(two!.parts).toEqual(one!.parts);
});
