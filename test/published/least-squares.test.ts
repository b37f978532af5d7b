import { describe, expect, test } from "vitest";
import { chiSquaredBelow, studentBelow, studentQuantile } from "../../sim/statistics/distributions.js";
import { leastSquares } from "../../sim/fit/leastsquares.js";

/** Correct digits of a value, as the reference data sets have it: −log10 of the relative error. */
function digits(found: number, certified: number): number {
  return found === certified ? 16 : -Math.log10(Math.abs(found - certified) / Math.abs(certified));
}

const column = (values: readonly number[]): Float64Array => Float64Array.from(values);
const ones = (n: number): Float64Array => new Float64Array(n).fill(1);

/** Mean and standard deviation of one sample, as a fit of a constant. */
function constant(values: readonly number[]): { mean: number; sd: number } {
  const { beta, rss, dof } = leastSquares([ones(values.length)], column(values));
  return { mean: beta[0]!, sd: Math.sqrt(rss / dof) };
}

// NIST Statistical Reference Datasets, linear regression: data and certified values as they stand in public test suites
// that quote https://www.itl.nist.gov/div898/strd/lls/data/Norris.shtml and NoInt1.shtml
describe("reference data sets for linear regression", () => {
  const norris: readonly (readonly [y: number, x: number])[] = [
    [0.1, 0.2], [338.8, 337.4], [118.1, 118.2], [888.0, 884.6], [9.2, 10.1], [228.1, 226.5], [668.5, 666.3], [998.5, 996.3], [449.1, 448.6],
    [778.9, 777.0], [559.2, 558.2], [0.3, 0.4], [0.1, 0.6], [778.1, 775.5], [668.8, 666.9], [339.3, 338.0], [448.9, 447.5], [10.8, 11.6],
    [557.7, 556.0], [228.3, 228.1], [998.0, 995.8], [888.8, 887.6], [119.6, 120.2], [0.3, 0.3], [0.6, 0.3], [557.6, 556.8], [339.3, 339.1],
    [888.0, 887.2], [998.5, 999.0], [778.9, 779.0], [10.2, 11.1], [117.6, 118.3], [228.9, 229.2], [668.4, 669.1], [449.2, 448.9], [0.2, 0.5],
  ];

  test("Norris: 36 observations of a line", () => {
    const x = column(norris.map(([, at]) => at));
    const { beta, sd, rss, dof } = leastSquares([ones(36), x], column(norris.map(([y]) => y)));
    expect(dof).toBe(34);
    expect(digits(beta[0]!, -0.262323073774029)).toBeGreaterThan(11);
    expect(digits(beta[1]!, 1.00211681802045)).toBeGreaterThan(13);
    expect(digits(sd[0]!, 0.232818234301152)).toBeGreaterThan(11);
    expect(digits(sd[1]!, 0.429796848199937e-3)).toBeGreaterThan(11);
    expect(digits(rss, 26.6173985294224)).toBeGreaterThan(11);
  });

  test("NoInt1: 11 observations of a line through the origin", () => {
    const x = Array.from({ length: 11 }, (_, i) => 60 + i);
    const { beta, sd, rss } = leastSquares([column(x)], column(x.map((at) => at + 70)));
    expect(digits(beta[0]!, 2.07438016528926)).toBeGreaterThan(13);
    expect(digits(sd[0]!, 0.165289256198347e-1)).toBeGreaterThan(12);
    expect(digits(rss, 127.272727272727)).toBeGreaterThan(12);
  });

  // from memory
  test("NoInt2: 3 observations of a line through the origin", () => {
    const { beta, sd } = leastSquares([column([4, 5, 6])], column([3, 4, 4]));
    expect(digits(beta[0]!, 0.727272727272727)).toBeGreaterThan(13);
    expect(digits(sd[0]!, 0.420827318078432e-1)).toBeGreaterThan(12);
  });

  // from memory; exact by its making, since y is the polynomial itself
  test("Wampler1: a polynomial of degree 5, all coefficients 1", () => {
    const x = Array.from({ length: 21 }, (_, i) => i);
    const powers = [0, 1, 2, 3, 4, 5].map((power) => column(x.map((at) => at ** power)));
    const y = column(x.map((at) => [0, 1, 2, 3, 4, 5].reduce((sum, power) => sum + at ** power, 0)));
    for (const coefficient of leastSquares(powers, y).beta) expect(digits(coefficient, 1)).toBeGreaterThan(8);
  });

  test("a column that follows from another, or too few rows, is refused", () => {
    expect(() => leastSquares([ones(3), ones(3)], ones(3))).toThrow(RangeError);
    expect(() => leastSquares([ones(1), column([2])], ones(1))).toThrow(RangeError);
  });
});

// NIST Statistical Reference Datasets, univariate summary statistics; NumAcc1 to NumAcc4 are made by rule
describe("reference data sets for mean and standard deviation", () => {
  const numAcc = (base: number): number[] => [base + 0.2, ...Array.from({ length: 500 }, () => [base + 0.1, base + 0.3]).flat()];

  test("NumAcc1", () => {
    const { mean, sd } = constant([10_000_001, 10_000_003, 10_000_002]);
    expect(digits(mean, 10_000_002)).toBeGreaterThan(14);
    expect(digits(sd, 1)).toBeGreaterThan(7);
  });

  test.each([
    [1, 1.2, 13],
    [1_000_000, 1_000_000.2, 8],
    [10_000_000, 10_000_000.2, 6],
  ])("NumAcc with base %i", (base, mean, least) => {
    const found = constant(numAcc(base));
    expect(digits(found.mean, mean)).toBeGreaterThan(12);
    expect(digits(found.sd, 0.1)).toBeGreaterThan(least);
  });
});

// computed with scipy.stats (SciPy 1.17.1): t.ppf(0.975, dof), t.cdf(-1.3, dof), chi2.cdf(0.7, dof), chi2.cdf(2·dof + 5, dof)
describe("distributions behind the intervals", () => {
  test.each([
    [1, 12.706204736174694, 0.20871440016015272, 0.5972163057535244, 0.9918490284064972],
    [2, 4.302652729749462, 0.16162351590802015, 0.2953119102812865, 0.9888910034617577],
    [3, 3.1824463052837078, 0.14223375436394853, 0.12679605093604587, 0.9882741244215786],
    [10, 2.228138851986274, 0.1113829086034223, 3.273617475313252e-5, 0.9946544945128659],
    [34, 2.0322445093177186, 0.10117271236068526, 3.5859482107218285e-23, 0.9998849840133855],
    [200.5, 1.971866290304378, 0.09754673149525725, 4.695065388387227e-205, 0.9999999999999996],
  ])("with %d degrees of freedom", (dof, quantile, below, low, high) => {
    expect(digits(studentQuantile(0.975, dof), quantile)).toBeGreaterThan(10);
    expect(digits(studentBelow(-1.3, dof), below)).toBeGreaterThan(11);
    expect(digits(chiSquaredBelow(0.7, dof), low)).toBeGreaterThan(11);
    expect(digits(chiSquaredBelow(2 * dof + 5, dof), high)).toBeGreaterThan(12);
  });
});
