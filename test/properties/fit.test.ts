import fc from "fast-check";
import { describe, expect, test, vi } from "vitest";
import { InputError } from "../../sim/errors.js";
import { countSteps } from "../../sim/fit/counts.js";
import { fitLog, parseLog, type FittedBoard } from "../../sim/fit/index.js";
import { Noise } from "../../sim/fit/noise.js";
import { stepsNeeded } from "../../sim/fit/precision.js";
import { normal } from "../../sim/random/normal.js";
import { stream } from "../../sim/random/streams.js";
import { duration } from "../../sim/units/quantities.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { often } from "../thorough.js";

// hundreds of logs are made and fitted
vi.setConfig({ testTimeout: often(60_000, 1_200_000) });

interface Planted {
  readonly rows: number;
  readonly step: number;
  /** Standard deviations, seconds. */
  readonly jitter: number;
  readonly reading: number;
  /** Chance that a change is not noted. */
  readonly miss: number;
  /** Relative growth an hour. */
  readonly drift: number;
}

/** The log of a board that does what was planted, with what a perfect observer would know of it. */
function watched(seed: string, { rows, step, jitter, reading, miss, drift }: Planted): { text: string; missed: number; middle: number } {
  const source = stream(seed, 0, "quay", "jitter");
  const seen: number[] = [];
  let missed = 0;
  let skipped = 0;
  for (let t = step / 3; seen.length < rows; t += step * (1 + (drift * t) / 3600) + jitter * normal(source)) {
    if (seen.length > 0 && source.uniform() < miss) {
      skipped++;
      continue;
    }
    missed += skipped;
    skipped = 0;
    seen.push(t + reading * normal(source));
  }
  const text = ["board,time", ...seen.map((t) => `quay,${Math.max(0, t).toFixed(2)}`), ""].join("\n");
  return { text, missed, middle: (seen[0]! + seen.at(-1)!) / 2 };
}

function fitted(text: string): FittedBoard {
  return fitLog(parseLog(text, "log.csv"), "log.csv")[0]!;
}

function fittedOrRefused(text: string): FittedBoard | null {
  try {
    return fitted(text);
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

const inside = (value: number, low: number, high: number): boolean => low <= value && value <= high;

/** Logs of each sort. */
const LOGS = often(25, 400);

/** Of 93 %, what chance leaves of so many logs: two standard deviations less. */
const LEAST = 0.93 - 2 * Math.sqrt((0.93 * 0.07) / LOGS);

describe("what was planted in many logs lies in its 95 % interval in 93 to 97 % of them", () => {
  const usual: Planted = { rows: 30, step: 120, jitter: 0.6, reading: 0.2, miss: 0, drift: 0 };
  /** Steps of two minutes with a jitter of 0.1, 0.5 and 2 %, watched by a steady hand and by a slow one. */
  const NOISE = [
    { jitter: 0.12, reading: 0.05 },
    { jitter: 0.6, reading: 0.05 },
    { jitter: 0.6, reading: 0.2 },
    { jitter: 2.4, reading: 0.2 },
    { jitter: 2.4, reading: 0.5 },
  ];

  interface Hits {
    step: number;
    jitter: number;
    drift: number;
    missed: number;
  }

  function hitsOf(name: string, planted: Planted, logs = LOGS): Hits {
    const hits: Hits = { step: 0, jitter: 0, drift: 0, missed: 0 };
    for (let i = 0; i < logs; i++) {
      const { text, missed, middle } = watched(`${name} ${i}`, planted);
      const board = fittedOrRefused(text);
      // a log that is refused says nothing of where the step lies: no hit
      if (board === null) continue;
      const step = planted.step * (1 + (planted.drift * middle) / 3600);
      if (inside(step, board.low, board.high)) hits.step++;
      if (inside(planted.jitter, board.jitterLow, board.jitterHigh)) hits.jitter++;
      if (board.driftLow === null || inside(planted.drift, board.driftLow, board.driftHigh!)) hits.drift++;
      if (board.missed === missed && board.oddLines.length === 0) hits.missed++;
    }
    return hits;
  }

  test("from six rows to sixty, none of the changes missed or half of them", () => {
    const logs = often(6, 400);
    const table = [6, 12, 30, 60].flatMap((rows) => [0, 0.5].map((miss) => {
      const all = NOISE.map((noise) => hitsOf(`${rows} ${miss} ${noise.jitter} ${noise.reading}`, { ...usual, ...noise, rows, miss }, logs));
      const share = (of: keyof Hits): number => all.reduce((sum, hits) => sum + hits[of], 0) / (logs * all.length);
      return { rows, miss, step: share("step"), jitter: share("jitter"), drift: share("drift") };
    }));
    const overall = (of: keyof Hits & ("step" | "jitter" | "drift")): number => table.reduce((sum, row) => sum + row[of], 0) / table.length;
    const told = JSON.stringify(table);
    expect(overall("step"), told).toBeGreaterThanOrEqual(0.93);
    expect(overall("step"), told).toBeLessThanOrEqual(0.97);
    // of jitter and drift either end is cautious
    expect(overall("jitter"), told).toBeGreaterThanOrEqual(0.93);
    expect(overall("drift"), told).toBeGreaterThanOrEqual(0.93);
    // in each row of the table, too, but for what chance does to so many logs: three standard deviations
    const chance = logs < 400 ? 3 * Math.sqrt((0.95 * 0.05) / (logs * NOISE.length)) : 0.025;
    for (const { step } of table) expect(Math.abs(step - 0.95), told).toBeLessThanOrEqual(chance);
  });

  // Where the reading error is as large as the jitter or larger, few rows cannot tell which of the two it is: a jitter would
  // make the step far less certain, and the interval must hold then, too. So it is too wide where there happens to be none;
  // no rule that looks at the log alone could make it narrower here without being too narrow for logs that look the same.
  test.each<[what: string, planted: Partial<Planted>, most: number]>([
    ["six rows, which hardly tell anything", { rows: 6, jitter: 0.12, reading: 0.5 }, 1],
    ["twelve rows", { rows: 12, jitter: 0.12, reading: 0.2 }, 1],
    ["thirty rows, half of the changes missed", { rows: 30, jitter: 0.6, reading: 0.5, miss: 0.5 }, 1],
    ["sixty rows, which do tell", { rows: 60, jitter: 0.12, reading: 0.2, miss: 0.5 }, 0.98],
  ])("where reading error hides the jitter it lies there at least as often: %s", (name, planted, most) => {
    const hits = hitsOf(name, { ...usual, ...planted });
    expect(hits.step / LOGS).toBeGreaterThanOrEqual(LEAST);
    expect(hits.jitter / LOGS).toBeGreaterThanOrEqual(LEAST);
    expect(hits.step / LOGS).toBeLessThanOrEqual(most);
  });

  test.each<[string, Partial<Planted>]>([
    ["a step that drifts", { rows: 60, step: 170, jitter: 1, drift: 0.001, miss: 0.15 }],
    ["no jitter at all", { rows: 30, jitter: 0 }],
  ])("and so do %s, its drift, and what was missed", (name, planted) => {
    const hits = hitsOf(name, { ...usual, ...planted });
    for (const of of ["step", "drift", "jitter", "missed"] as const) expect(hits[of], of).toBeGreaterThanOrEqual(LEAST * LOGS);
  });

  test("and are not far from the least width where all is reading error: rows equally far apart, r·√(12/n³) for the slope of a line", () => {
    // slope of a least-squares line through n equidistant points, from any textbook of statistics; 1.96 for 95 %
    const least = 1.96 * 0.3 * Math.sqrt(12 / 100 ** 3);
    for (let i = 0; i < 5; i++) {
      const { low, high } = fitted(watched(`alone ${i}`, { ...usual, rows: 100, jitter: 0, miss: 0 }).text);
      expect(high - low).toBeLessThan(2 * 4 * least);
      expect(high - low).toBeGreaterThan(2 * 0.8 * least);
    }
  });

  test("and the intervals are not wide for nothing: twice the steps, narrower by about a third", () => {
    const width = (rows: number): number => {
      const widths = Array.from({ length: often(8, 20) }, (_, i) => fitted(watched(`width ${i}`, { ...usual, rows, miss: 0 }).text)).map(({ low, high }) => high - low);
      return widths.reduce((sum, w) => sum + w, 0) / widths.length;
    };
    // jitter alone gives 1/√2
    expect(width(80) / width(40)).toBeGreaterThan(0.55);
    expect(width(80) / width(40)).toBeLessThan(0.8);
  });
});

describe("counting steps", () => {
  test("finds the steps between rows whatever was missed, as long as most intervals are short", () => {
    const gaps = fc.array(fc.constantFrom(1, 1, 1, 2, 3), { minLength: 4, maxLength: 40 }).filter((steps) => steps.includes(1));
    fc.assert(
      fc.property(gaps, fc.double({ min: 0.5, max: 5000, noNaN: true }), fc.double({ min: 0, max: 1e5, noNaN: true }), (steps, step, start) => {
        const times = steps.reduce((all, n) => [...all, all.at(-1)! + n * step], [start]);
        const counted = countSteps(times)!;
        expect(counted.odd).toEqual([]);
        expect(counted.intervals.map((interval) => interval.steps)).toEqual(steps);
      }),
      { seed: 20, numRuns: 100 },
    );
  });

  test("a single step among many of two is enough to tell the step", () => {
    expect(countSteps([39.91, 160.23, 280.77, 519.2, 639.33, 699.64])!.intervals.map(({ steps }) => steps)).toEqual([2, 2, 4, 2, 1]);
    // half a step early, once in twenty: rather a slip
    const late = Array.from({ length: 20 }, (_, i) => 100 * i).concat(1950);
    expect(countSteps(late)!.odd).toEqual([20]);
  });

  test("logs with three changes of five missed are rarely taken for twice the step", () => {
    let doubled = 0;
    for (let i = 0; i < often(40, 300); i++) {
      const source = stream("many missed", i, "quay", "jitter");
      const changes = Array.from({ length: 40 }, (_, k) => k).filter(() => source.uniform() > 0.6);
      const steps = changes.slice(1).map((k, j) => k - changes[j]!);
      // where all are twos and fours nothing in the log tells
      if (changes.length < 6 || steps.every((n) => n % 2 === 0)) continue;
      const counted = countSteps(changes.map((k) => 60 * k + 0.3 * normal(source)))!;
      if (counted.intervals.some(({ row, steps: found }) => found !== steps[row - 1])) doubled++;
    }
    expect(doubled).toBeLessThanOrEqual(1);
  });

  test("twos and threes without a single step are of their common step", () => {
    const steps = [2, 3, 3, 2, 2, 3, 2];
    const times = steps.reduce((all, n) => [...all, all.at(-1)! + n * 100], [5]);
    expect(countSteps(times)!.intervals.map((interval) => interval.steps)).toEqual(steps);
  });

  test("a slip of the finger in between is left out, and so is a first step that is longer", () => {
    expect(countSteps([0, 136, 236, 336, 436, 536, 636])!.odd).toEqual([1]);
    expect(countSteps([0, 100, 140, 200, 300, 400, 500, 600, 700, 800, 900, 1000])!.odd).toEqual([2, 3]);
  });

  test("a night of two hundred steps is too long to count", () => {
    expect(countSteps([0, 100.4, 200.1, 300.3, 20_340.2, 20_440, 20_540.3])!.odd).toContain(4);
  });

  test("times without a common step have none", () => {
    expect(countSteps([0, 100, 237, 301, 480])).toBeNull();
  });
});

test("one row that was noted late or early is found, whatever the timer, and costs nothing else", () => {
  const SLIPS = often(15, 50);
  let found = 0;
  for (let i = 0; i < SLIPS; i++) {
    const step = 60 + 6 * i;
    const { text } = watched(`slip ${i}`, { rows: 12 + (i % 20), step, jitter: 0.2, reading: 0.3, miss: 0.1, drift: 0 });
    const rows = text.trim().split("\n");
    const at = 3 + (i % 8);
    const off = (i % 2 === 0 ? 1 : -1) * 0.11 * step;
    const wrong = rows.map((row, line) => (line === at ? `quay,${(Number(row.split(",")[1]) + off).toFixed(2)}` : row)).join("\n");
    const board = fitted(`${wrong}\n`);
    const right = board.slips.length === 1 && board.slips[0]!.line === at + 1 && Math.abs(board.slips[0]!.offSeconds - off) < 2;
    if (right && Math.abs(board.stepSeconds - fitted(text).stepSeconds) < 0.2) found++;
  }
  expect(found).toBeGreaterThanOrEqual(0.96 * SLIPS);
});

test("two rows that were noted late are two, and not the one between them", () => {
  const noted = Array.from({ length: 40 }, (_, row) => 100 * row + 0.2 * Math.sin(7 * row) + (row === 12 || row === 14 ? 11 : 0));
  const { slips } = fitted(["board,time", ...noted.map((t) => `quay,${(t + 5).toFixed(2)}`), ""].join("\n"));
  expect(slips.map(({ line }) => line)).toEqual([14, 16]);
});

test("a log is as fine as the finest of its rows: whole seconds among them are seconds without tenths", () => {
  expect(parseLog("board,time\nquay,0\nquay,40.12\nquay,80.2\n", "log.csv")[0]!.grain).toBeCloseTo(0.01, 12);
  expect(parseLog("board,time\nquay,0\nquay,40\nquay,80\n", "log.csv")[0]!.grain).toBe(1);
});

describe("two boards under one name", () => {
  const rowsOf = (text: string): string[] => text.trim().split("\n").slice(1);
  const timeOf = (row: string): number => Number(row.split(",")[1]);
  const told = (text: string): string => {
    try {
      fitted(text);
      return "fitted";
    } catch (error) {
      return (error as Error).message;
    }
  };

  test("are told apart with their steps in nineteen logs of twenty", () => {
    const source = stream("mixed", 0, "quay", "jitter");
    const logs = Array.from({ length: 2 * LOGS }, (_, i) => {
      const steps = [60 + 240 * source.uniform(), 60 + 240 * source.uniform()].sort((a, b) => a - b) as [number, number];
      // steps nearly alike look like one board that is hard to watch
      if (steps[1] / steps[0] < 1.05) steps[1] = 1.3 * steps[0];
      const length = 12 * steps[1];
      const rows = steps.flatMap((step, k) => rowsOf(watched(`mixed ${i} ${k}`, { rows: Math.floor(length / step), step, jitter: 0.2, reading: 0.3, miss: 0.05, drift: 0 }).text));
      return { steps, text: ["board,time", ...rows.sort((a, b) => timeOf(a) - timeOf(b)), ""].join("\n") };
    });
    const right = logs.filter(({ steps, text }) => {
      // two of the steps named, within the half second to which they are spoken
      const named = /steps of about (.*) and (.*); give/.exec(told(text));
      if (named === null) return false;
      const seconds = named.slice(1).map((time) => duration.parse(time)!).sort((a, b) => a - b);
      return seconds.every((value, k) => Math.abs(value - steps[k]!) < 0.5 + 0.01 * steps[k]!);
    });
    expect(right.length).toBeGreaterThanOrEqual(1.9 * LOGS);
  });

  test("are never seen in the log of one, however many changes were missed", () => {
    for (let i = 0; i < LOGS; i++) {
      const { text } = watched(`one ${i}`, { rows: 5 + (i % 40), step: 60 + 2 * i, jitter: 0.5, reading: 0.3, miss: 0.1 * (i % 7), drift: 0 });
      expect(told(text)).toBe("fitted");
    }
  });
});

test("whitening turns the covariance of the two noises into that of none", () => {
  // V = B·Bᵀ, so that B⁻¹·V·B⁻ᵀ is the identity; V by its definition
  const intervals = [{ row: 1, steps: 1 }, { row: 2, steps: 3 }, { row: 4, steps: 1 }, { row: 5, steps: 2 }];
  const share = 0.3;
  const covariance = intervals.map((a, i) =>
    intervals.map((b, j) => (i === j ? a.steps * share + (1 - share) : Math.abs(a.row - b.row) === 1 ? -(1 - share) / 2 : 0)),
  );
  const noise = new Noise(intervals, share);
  const half = covariance.map((row) => noise.whiten(Float64Array.from(row)));
  const whole = intervals.map((_, j) => noise.whiten(Float64Array.from(half, (row) => row[j]!)));
  whole.forEach((row, i) => row.forEach((value, j) => expect(value).toBeCloseTo(i === j ? 1 : 0, 12)));
});

test("how long to watch: jitter alone by its formula, reading error alone by the ends of the log", () => {
  const estimate = (value: number): { value: number; low: number; high: number } => ({ value, low: 0, high: value });
  // ±1.96·J/√N = 0.1 for J = 1 gives 384.1; Student's t is a little wider
  expect(stepsNeeded({ jitter: estimate(1), reading: 0 }, 0.1)).toBeGreaterThanOrEqual(385);
  expect(stepsNeeded({ jitter: estimate(1), reading: 0 }, 0.1)).toBeLessThan(392);
  // the mean slope of N + 1 readings of error r has the standard deviation r·√(12/(N·(N + 1)·(N + 2)))
  const n = stepsNeeded({ jitter: estimate(0), reading: 0.3 }, 0.05)!;
  const half = (steps: number): number => 2.0 * 0.3 * Math.sqrt(12 / (steps * (steps + 1) * (steps + 2)));
  expect(half(n + 2)).toBeLessThan(0.05);
  expect(half(n - 2)).toBeGreaterThan(0.05);
  expect(stepsNeeded({ jitter: estimate(10), reading: 0 }, 0.001)).toBeNull();
});

test("the line for the scenario file is one that the reader takes, with what was found", () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 1e6 }), fc.double({ min: 20, max: 4000, noNaN: true }), fc.double({ min: 0, max: 0.02, noNaN: true }), (seed, step, jitter) => {
      const board = fitted(watched(`line ${seed}`, { rows: 12, step, jitter: jitter * step, reading: 0.3, miss: 0, drift: 0 }).text);
      const text = `lampdrift: 1\ntitle: T\nhouses: { inn: }\nboards:\n  quay:\n    ${board.timer}\n    counter: { kind: ring, steps: 2 }\n    outputs: { 0: inn }\n`;
      const { timer } = parseScenario(text, "t.yaml").boards[0]!;
      expect(timer.kind).toBe("measured");
      if (timer.kind !== "measured") return;
      expect(Math.abs(timer.step - board.stepSeconds)).toBeLessThan((board.high - board.low) / 2 + 1e-5);
      expect(timer.reading).toBeCloseTo((board.high - board.low) / 2, 0);
    }),
    { seed: 21, numRuns: often(15, 40) },
  );
});
