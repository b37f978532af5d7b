import { describe, expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import { parseScenario } from "../../sim/scenario/read.js";

/**
 * Lengths of steps under jitter, drift, temperature, a divider and stray pulses, against closed forms. Bounds on what
 * is drawn at random leave one false alarm in a million seeds each (4.89 standard deviations); the seeds are fixed.
 */
const ALARM = 4.8916;

interface Run {
  readonly timer: string;
  readonly opening?: string;
  readonly room?: string;
  readonly glitches?: number;
  readonly boards?: number;
}

/** For each board the instants of its moves after every switch-on, counted from that switch-on; all boards alike. */
function pulseTimes({ timer, opening = "{ run: 1 }", room = "{}", glitches = 0, boards = 1 }: Run): number[][][] {
  const ids = Array.from({ length: boards }, (_, b) => `b${b}`);
  const text = `
lampdrift: 1
title: Steps
opening: ${opening}
room: ${room}
supply: { glitches: ${glitches} }
houses: { a: {} }
boards:
${ids.map((id) => `  ${id}: { timer: ${timer}, counter: { kind: ring, steps: 2 }, outputs: { 0: a } }`).join("\n")}
`;
  const { trace } = simulate(parseScenario(text, "steps.yaml"), { trace: true });
  const periods: number[][][] = ids.map(() => []);
  let on = ids.map(() => -1);
  trace!.time.forEach((t, i) => {
    const b = trace!.board[i]!;
    if (trace!.step[i]! < 0) on = on.map((since, other) => (other === b ? -1 : since));
    else if (on[b]! < 0) {
      on[b] = t;
      periods[b]!.push([]);
    } else periods[b]!.at(-1)!.push(t - on[b]!);
  });
  return periods;
}

/** The one period with power of the one board. */
const pulses = (run: Run): number[] => pulseTimes(run)[0]![0]!;

/** Times between one pulse and the next, the first from switch-on. */
const gaps = (times: readonly number[]): number[] => times.map((t, i) => t - (i === 0 ? 0 : times[i - 1]!));
const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
const varianceOf = (values: readonly number[]): number => {
  const mean = meanOf(values);
  return meanOf(values.map((value) => (value - mean) ** 2));
};

describe("jitter", () => {
  const days = '{ from: "00:00", until: "24:00", overnight: on, run: 20 }';

  test("keeps every step within four standard deviations, to the rounding, and nearly reaches them", () => {
    const found = gaps(pulses({ timer: "{ kind: quartz, step: 60 s, jitter: 2 % }", opening: days }));
    const [least, most] = [Math.min(...found), Math.max(...found)];
    expect(least).toBeGreaterThanOrEqual(60e6 * 0.92 - 0.5);
    expect(most).toBeLessThanOrEqual(60e6 * 1.08 + 0.5);
    // 28,800 steps, of which 0.27 % lie beyond three standard deviations
    expect(least).toBeLessThan(60e6 * 0.94);
    expect(most).toBeGreaterThan(60e6 * 1.06);
    expect(found.every(Number.isInteger)).toBe(true);
  });

  test("has the mean and the standard deviation that the file gives", () => {
    const found = gaps(pulses({ timer: "{ kind: quartz, step: 60 s, jitter: 2 % }", opening: days }));
    const n = found.length;
    const sigma = 60e6 * 0.02;
    expect(Math.abs(meanOf(found) - 60e6)).toBeLessThan((ALARM * sigma) / Math.sqrt(n));
    // cutting at ±4 leaves 1 - 8 phi(4) / (2 Phi(4) - 1) = 0.99893 of the variance
    expect(Math.abs(varianceOf(found) / sigma ** 2 - 0.99893)).toBeLessThan(ALARM * Math.sqrt(2 / n));
  });

  test("of a divided timer is that of every period by itself", () => {
    // the variance of a sum of 25 independent periods is 25 times that of one
    const timer = "{ kind: astable, ra: 100k, rb: 100k, c: 10 uF, divide: 25, jitter: 5 % }";
    const [, ...steady] = gaps(pulses({ timer, opening: days }));
    const period = Math.LN2 * 300e3 * 10e-6 * 1e6;
    const n = steady.length;
    const sigma = period * 0.05 * 5;
    expect(Math.abs(meanOf(steady) - 25 * period)).toBeLessThan((ALARM * sigma) / Math.sqrt(n));
    expect(Math.abs(varianceOf(steady) / sigma ** 2 - 0.99893)).toBeLessThan(ALARM * Math.sqrt(2 / n));
  });
});

describe("drift", () => {
  // Step k starts at t and lasts S(1 + d·t), so 1 + d·t grows by the factor 1 + d·S: t after k steps is ((1 + d·S)^k − 1)/d.
  const closedForm = (k: number, step: number, drift: number): number => (Math.expm1(k * Math.log1p(drift * step)) / drift) * 1e6;

  test.each([
    ["50 %/1000 h", 0.5],
    ["-50 %/1000 h", -0.5],
    ["0.5 %/1000 h", 0.005],
  ])("of %s makes the steps a geometric series", (drift, perThousand) => {
    const times = pulses({
      timer: `{ kind: quartz, step: 60 s, drift: ${drift} }`,
      opening: '{ from: "00:00", until: "24:00", overnight: on, run: 30 }',
    });
    const perSecond = perThousand / 1000 / 3600;
    expect(times.length).toBeGreaterThan(30_000);
    const off = times.filter((t, i) => {
      // half a microsecond of rounding a step, which the growth of later steps carries on
      const rounding = (i + 1) * 0.5 * Math.max(1, (1 + perSecond * 60) ** (i + 1)) + 1e-3;
      return !(Math.abs(t - closedForm(i + 1, 60, perSecond)) < rounding);
    });
    expect(off).toEqual([]);
  });

  test("counts the hours with power only", () => {
    const run = { timer: "{ kind: quartz, step: 60 s, drift: 50 %/1000 h }", opening: '{ from: "10:00", until: "17:00", run: 30 }' };
    pulseTimes(run)[0]!.forEach((times, day) => {
      const step = 60 * (1 + (0.5 / 1000) * 7 * day);
      // from 7·day hours on, the same law with a longer step and, relative to it, a smaller drift
      const drift = 0.5 / 1000 / 3600 / (1 + (0.5 / 1000) * 7 * day);
      expect(times.filter((t, i) => !(Math.abs(t - closedForm(i + 1, step, drift)) < 0.6 * (i + 1)))).toEqual([]);
      expect(times.length).toBeGreaterThan(370);
    });
  });
});

describe("the room", () => {
  // Steps of S·(1 + e·cos) at any instant: over a whole day the number of pulses tends to the integral of
  // dt / (S(1 + e·cos wt)), which is 24 h / (S·sqrt(1 − e²)).
  test.each([
    [0.9, 20],
    [0.5, 20],
    [-0.9, 20],
    [0.5, 5],
  ])("with a tempco of %f %%/K and a swing of %f K gives the pulses that the integral over a day gives", (tempco, swing) => {
    const times = pulses({
      timer: `{ kind: measured, step: 1 s, tempco: ${tempco} %/K }`,
      opening: '{ from: "00:00", until: "24:00", overnight: on, run: 1 }',
      room: `{ mean: 21 °C, swing: ${swing} K, warmest: "15:00" }`,
    });
    const e = (tempco / 100) * swing;
    // a step is as long as it is where it starts: over a day that shifts the count by a pulse at most
    expect(Math.abs(times.length - 86_400 / Math.sqrt(1 - e * e))).toBeLessThan(2);
  });

  test("makes the longest steps where it is warmest, and the usual ones where it is at its mean", () => {
    const times = pulses({
      timer: "{ kind: measured, step: 60 s, tempco: 0.5 %/K }",
      opening: '{ from: "00:00", until: "24:00", overnight: on, run: 1 }',
      room: '{ mean: 21 °C, swing: 4 K, warmest: "15:00" }',
    });
    const found = gaps(times);
    // relative change by the hour of the day, from the cosine by hand: 0:00 −0.7071, 9:00 0, 15:00 +1, 21:00 0, 3:00 −1
    for (const [hour, cosine] of [[0, -Math.SQRT1_2], [3, -1], [9, 0], [15, 1], [21, 0]] as const) {
      const at = times.findIndex((t) => t >= hour * 3600e6);
      const slope = (2 * Math.PI * 60 * 0.02) / 86_400;
      expect(Math.abs(found[hour === 0 ? 0 : at + 1]! / 60e6 - (1 + 0.02 * cosine))).toBeLessThan(2 * slope + 1e-8);
    }
  });

  test("has no effect where nothing depends on temperature, and none at 25 °C all day", () => {
    const astable = (tempco: string): string =>
      `{ kind: astable, ra: { value: 47k, tempco: ${tempco} }, rb: { value: 220k, tempco: ${tempco} }, c: { value: 47 uF, tempco: ${tempco} } }`;
    const still = pulses({ timer: astable("0") });
    expect(pulses({ timer: astable("0"), room: "{ mean: 10 °C, swing: 10 K }" })).toEqual(still);
    expect(pulses({ timer: astable("500 ppm/K"), room: "{ mean: 25 °C }" })).toEqual(still);
    expect(pulses({ timer: astable("500 ppm/K"), room: "{ mean: 24 °C }" })).not.toEqual(still);
  });

  test("scales an astable by each of its parts", () => {
    // 10 K below 25 °C: Ra 1 % less, Rb 2 % more, C 0.5 % less
    const timer =
      "{ kind: astable, ra: { value: 100k, tempco: 0.1 %/K }, rb: { value: 200k, tempco: -0.2 %/K }, c: { value: 100 uF, tempco: 500 ppm/K } }";
    const [first, second] = gaps(pulses({ timer, room: "{ mean: 15 °C }" }));
    const [ra, rb, c] = [99e3, 204e3, 99.5e-6];
    expect(first).toBe(Math.round((Math.log(3) * (ra + rb) + Math.LN2 * rb) * c * 1e6));
    expect(second).toBe(Math.round(Math.LN2 * (ra + 2 * rb) * c * 1e6));
  });
});

describe("a divider", () => {
  test.each([1, 2, 16, 4096])("by %i counts falling edges, of which the first comes at the end of the first high time", (divide) => {
    const [ra, rb, c] = [4700, 100e3, 1e-6];
    const found = gaps(pulses({ timer: `{ kind: astable, ra: 4k7, rb: 100k, c: 1 uF, divide: ${divide} }` }));
    const period = Math.round(Math.LN2 * (ra + 2 * rb) * c * 1e6);
    const firstHigh = Math.round(Math.log(3) * (ra + rb) * c * 1e6);
    const firstPeriod = Math.round((Math.log(3) * (ra + rb) + Math.LN2 * rb) * c * 1e6);
    const [first, ...others] = found;
    // without a divider the counter counts the rising edge, a low time later
    expect(first).toBe(divide === 1 ? firstPeriod : firstHigh + (divide - 1) * period);
    expect(others.length).toBeGreaterThan(100);
    expect(new Set(others)).toEqual(new Set([divide * period]));
  });

  test("counts them in the same way when each is worked out by itself", () => {
    // a drift so small that in a day it moves no period by a hundredth of a microsecond
    const timer = "{ kind: astable, ra: 4k7, rb: 100k, c: 1 uF, divide: 100, drift: 0.001 ppm/1000 h }";
    const period = Math.round(Math.LN2 * 204.7e3);
    const firstHigh = Math.round(Math.log(3) * 104.7e3);
    expect(gaps(pulses({ timer })).slice(0, 2)).toEqual([firstHigh + 99 * period, 100 * period]);
  });

  test("starts anew at every switch-on", () => {
    const timer = "{ kind: astable, ra: 4k7, rb: 100k, c: 1 uF, divide: 1000 }";
    const days = pulseTimes({ timer, opening: '{ from: "10:00", until: "11:00", run: 3 }' })[0]!;
    expect(days.length).toBe(3);
    expect(days[1]).toEqual(days[0]);
    expect(days[2]).toEqual(days[0]);
  });
});

describe("held steps", () => {
  test("last as many times the step time as the file says, the first after switch-on too", () => {
    const text = `
lampdrift: 1
title: Held
opening: { run: 1 }
houses: { a: {} }
boards:
  b:
    timer: { kind: astable, ra: 47k, rb: 220k, c: 47 uF }
    counter: { kind: table, steps: [[0], [], [0]], hold: [2, 0.5, 3] }
    outputs: { 0: a }
`;
    const { time } = simulate(parseScenario(text, "held.yaml"), { trace: true }).trace!;
    const step = Math.LN2 * 487e3 * 47e-6 * 1e6;
    const first = (Math.log(3) * 267e3 + Math.LN2 * 220e3) * 47e-6 * 1e6;
    const expected = [2 * first, 0.5 * step, 3 * step, 2 * step, 0.5 * step, 3 * step].map(Math.round);
    expect(Array.from({ length: 6 }, (_, i) => time[i + 1]! - time[i]!)).toEqual(expected);
  });
});

describe("stray pulses", () => {
  // boards that would step once in 115 days: every pulse of these runs is a stray one
  const timer = "{ kind: quartz, step: 1e7 }";
  const opening = '{ from: "10:00", until: "17:00", run: 30 }';
  const rate = 60;
  const found = pulseTimes({ timer, opening, glitches: rate, boards: 20 });

  test("come as often as the file says, on every board", () => {
    // Poisson with mean 60 an hour in 210 hours: 12,600 ± 4.89·sqrt(12,600) on each board
    const expected = rate * 210;
    for (const days of found) {
      const count = days.reduce((sum, times) => sum + times.length, 0);
      expect(Math.abs(count - expected)).toBeLessThan(ALARM * Math.sqrt(expected));
    }
    const all = found.flat().reduce((sum, times) => sum + times.length, 0);
    expect(Math.abs(all - 20 * expected)).toBeLessThan(ALARM * Math.sqrt(20 * expected));
  });

  test("vary from opening to opening as Poisson counts do", () => {
    // Index of dispersion: 600 counts with mean 420; sum (n - 420)²/420 is chi-square with 600 degrees of freedom,
    // mean 600, variance 1200 (and a little more, 600/420, for the Poisson's own kurtosis)
    const counts = found.flat().map((times) => times.length);
    expect(counts.length).toBe(600);
    const dispersion = counts.reduce((sum, n) => sum + (n - 420) ** 2 / 420, 0);
    expect(Math.abs(dispersion - 600)).toBeLessThan(ALARM * Math.sqrt(1200 + 600 / 420));
  });

  test("wait for each other as exponential times do", () => {
    // mean 60 s, variance 3600 s²; the variance of a sample variance is 8·sigma^4/n
    const waits = found.flat().flatMap((times) => gaps(times)).map((us) => us / 1e6);
    const n = waits.length;
    // each opening cuts off its last wait, which takes the longest ones out: 600 of 252,000 waits, by at most 1 %
    expect(Math.abs(meanOf(waits) - 60)).toBeLessThan((ALARM * 60) / Math.sqrt(n) + 0.6);
    expect(Math.abs(varianceOf(waits) / 3600 - 1)).toBeLessThan(ALARM * Math.sqrt(8 / n) + 0.02);
    // no memory: as many waits beyond 2 min among those beyond 1 min as beyond 1 min among all (1/e)
    const beyond = (seconds: number): number => waits.filter((wait) => wait > seconds).length;
    expect(Math.abs(beyond(60) / n - Math.exp(-1))).toBeLessThan(ALARM * Math.sqrt(0.233 / n) + 0.002);
    expect(Math.abs(beyond(120) / beyond(60) - Math.exp(-1))).toBeLessThan(ALARM * Math.sqrt(0.233 / beyond(60)) + 0.002);
  });

  test("come on different boards at different times, and not at all unless asked for", () => {
    expect(new Set(found.map((days) => days[0]![0])).size).toBe(20);
    expect(pulseTimes({ timer, opening })[0]).toEqual(Array.from({ length: 30 }, () => []));
  });

  test("come through the night where the power stays on", () => {
    const night = pulseTimes({ timer, opening: '{ from: "10:00", until: "11:00", overnight: on, run: 5 }', glitches: rate })[0]!;
    const expected = rate * (4 * 24 + 1);
    expect(Math.abs(night.flat().length - expected)).toBeLessThan(ALARM * Math.sqrt(expected));
  });

  test("leave the timer's own pulses where they are", () => {
    const own = { timer: "{ kind: quartz, step: 100 s }", opening: '{ from: "10:00", until: "17:00", run: 1 }' };
    const stray = new Set(pulses({ ...own, glitches: 20 }));
    expect(stray.size).toBeGreaterThan(pulses(own).length + 50);
    for (const t of pulses(own)) expect(stray.has(t)).toBe(true);
  });
});
