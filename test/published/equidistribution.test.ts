import { describe, expect, test } from "vitest";
import { eachSpell } from "../../sim/engine/record.js";
import { simulate } from "../../sim/engine/simulate.js";
import { parseScenario } from "../../sim/scenario/read.js";

/**
 * Two free-running rings whose cycles have no common measure worth the name meet in every pair of positions for the
 * same share of the time: 1/(N1·N2). That is Weyl's theorem on the fractional parts of k·alpha
 * (H. Weyl, Math. Ann. 77 (1916) 313; Hardy and Wright, 23.10, from memory).
 */
interface Rings {
  readonly steps: readonly [number, number];
  /** Step times in microseconds. */
  readonly micros: readonly [number, number];
  /** Openings of 24 hours, run through. */
  readonly days: number;
}

/** Two rings of quartz boards on a display that is never dark; every output has a house of its own. */
function display({ steps, micros, days }: Rings) {
  const houses = steps.flatMap((n, ring) => Array.from({ length: n }, (_, i) => `r${ring}-${i}`));
  const boards = steps.map(
    (n, ring) =>
      `  ring${ring}: { timer: { kind: quartz, step: ${micros[ring]! / 1e6} }, counter: { kind: ring, steps: ${n} }, ` +
      `outputs: { ${Array.from({ length: n }, (_, i) => `${i}: r${ring}-${i}`).join(", ")} } }`,
  );
  const text = `
lampdrift: 1
title: Two rings
opening: { from: "00:00", until: "24:00", overnight: on, run: ${days} }
houses: { ${houses.map((id) => `${id}: {}`).join(", ")} }
boards:
${boards.join("\n")}
`;
  return parseScenario(text, "rings.yaml");
}

/** Microseconds for which each pair of positions is shown. */
function pairTimes(rings: Rings): { times: number[]; open: number } {
  const [n1, n2] = rings.steps;
  const record = simulate(display(rings));
  const times = Array<number>(n1 * n2).fill(0);
  let open = 0;
  eachSpell(record, (scene, start, end) => {
    const [house1, house2] = record.scenes.lit(scene);
    times[house1! * n2 + (house2! - n1)]! += end - start;
    open += end - start;
  });
  return { times, open };
}

/** The star discrepancy of points in [0, 1): how far the share of points below x is from x, at worst. */
function starDiscrepancy(points: readonly number[]): number {
  const sorted = [...points].sort((a, b) => a - b);
  return sorted.reduce((worst, x, i) => Math.max(worst, (i + 1) / sorted.length - x, x - i / sorted.length), 0);
}

describe("pairs of positions of two rings", () => {
  /**
   * In cycle k of the first ring the second starts at phase {k·C1/C2}. For how long a given pair is shown in that cycle
   * is a function of that phase that rises to at most min(step1, step2) and falls again, so its variation is at
   * most twice that, and by Koksma's inequality (Kuipers and Niederreiter, Uniform Distribution of Sequences, ch. 2,
   * theorem 5.1, from memory) its mean over the cycles is within variation times star discrepancy of the integral,
   * C1/(N1·N2). What is left of a last, unfinished cycle counts in full.
   */
  test.each<Rings & { ratio: string }>([
    { ratio: "golden", steps: [3, 4], micros: [10_000_000, 12_135_255], days: 7 },
    { ratio: "square root of 2", steps: [10, 10], micros: [10_000_000, 14_142_136], days: 14 },
    { ratio: "pi", steps: [5, 7], micros: [20_000_000, 44_879_895], days: 14 },
  ])("are shown for equal shares when their cycles are in the ratio $ratio", (rings) => {
    const [[n1, n2], [step1, step2]] = [rings.steps, rings.micros];
    const [cycle1, cycle2] = [n1 * step1, n2 * step2];
    const { times, open } = pairTimes(rings);
    expect(open).toBe(rings.days * 86_400e6);
    const cycles = Math.floor(open / cycle1);
    const phases = Array.from({ length: cycles }, (_, k) => ((k * cycle1) % cycle2) / cycle2);
    const discrepancy = starDiscrepancy(phases);
    expect(discrepancy, "the bound below says something").toBeLessThan(0.005);
    const bound = (cycles * 2 * Math.min(step1, step2) * discrepancy) / open + cycle1 / open;
    expect(bound).toBeLessThan(0.1 / (n1 * n2));
    for (const time of times) expect(Math.abs(time / open - 1 / (n1 * n2))).toBeLessThan(bound);
  });

  test("are not, when their steps are equal", () => {
    const { times, open } = pairTimes({ steps: [3, 4], micros: [10_000_000, 10_000_000], days: 7 });
    // cycles of 3 and 4 steps still meet in all 12 pairs; cycles of 4 and 4 only in 4 of the 16
    expect(times).toEqual(Array<number>(12).fill(open / 12));
    const twins = pairTimes({ steps: [4, 4], micros: [10_000_000, 10_000_000], days: 7 });
    expect(twins.times.filter((time) => time > 0)).toEqual(Array<number>(4).fill(twins.open / 4));
  });

  test("are shown for exactly equal times over a whole number of common cycles", () => {
    // 97 and 89 are prime and share nothing with 4 and 3 steps: together they come round after 97·89·12 s = 28.776 h;
    // ten such rounds are 11.99 days, so the rest of the twelfth day is cut off by hand
    const rings: Rings = { steps: [4, 3], micros: [97_000_000, 89_000_000], days: 12 };
    const round = 97 * 89 * 12 * 1e6;
    const record = simulate(display(rings));
    const times = Array<number>(12).fill(0);
    eachSpell(record, (scene, start, end) => {
      const [house1, house2] = record.scenes.lit(scene);
      times[house1! * 3 + (house2! - 4)]! += Math.max(0, Math.min(end, 10 * round) - start);
    });
    expect(times).toEqual(Array<number>(12).fill((10 * round) / 12));
  });
});

describe("a ring seen at every pulse of another", () => {
  // Weyl counts of {k·alpha} < 0.1 for k = 1 … N, computed in multiple precision (mpmath 1.2.1): N = 1000: 1/phi 100,
  // sqrt 2 100, pi 97; N = 10000: 1000, 1001, 971.
  const phi = (1 + Math.sqrt(5)) / 2;
  test.each([
    ["1/phi", 1 / phi, 1000, 100],
    ["sqrt 2", Math.SQRT2, 1000, 100],
    ["pi", Math.PI, 1000, 97],
    ["1/phi", 1 / phi, 10_000, 1000],
    ["sqrt 2", Math.SQRT2, 10_000, 1001],
    ["pi", Math.PI, 10_000, 971],
  ])("%s cycles later stands at its first of ten steps as often as counted", (_, alpha, pulses, expected) => {
    // a cycle of 1000 s: rounding a step to whole microseconds moves {k·alpha} by less than 5e-10·k
    const step = Math.round(alpha * 1e9);
    const record = simulate(display({ steps: [10, 2], micros: [1e8, step], days: Math.ceil(((pulses + 1) * alpha * 1000) / 86400) }), { trace: true });
    const { time, board, step: steps } = record.trace!;
    let position = 0;
    // the first entry of the other ring is its reset at switch-on, no pulse
    let seen = -1;
    let first = 0;
    for (let i = 0; i < time.length && seen < pulses; i++) {
      if (board[i] === 0) position = steps[i]!;
      else if (++seen > 0 && position === 0) first++;
    }
    expect(seen).toBe(pulses);
    expect(first).toBe(expected);
    // no count hangs on that rounding
    for (let k = 1; k <= pulses; k++) {
      const part = (k * alpha) % 1;
      const edge = Math.min(part, Math.abs(part - 0.1), 1 - part);
      expect(edge).toBeGreaterThan(5e-10 * k);
    }
  });
});
