import { describe, expect, test } from "vitest";
import { lfsrStates, MAXIMAL_TAPS } from "../../sim/counters/lfsr.js";
import { holds, isEven, sequence, type Sequence } from "../../sim/counters/sequence.js";
import { simulate } from "../../sim/engine/simulate.js";
import type { Counter } from "../../sim/model/scenario.js";
import { parseScenario } from "../../sim/scenario/read.js";

const powerUp = "reset" as const;

/** The outputs that are on, for every step of a cycle. */
function rows(counter: Counter): number[][] {
  const seq: Sequence = sequence(counter);
  return Array.from({ length: seq.steps }, (_, step) => [...seq.on(step)]);
}

describe("the decade counter of the 4000 series", () => {
  // National CD4017BM (1988); Intersil CD4017BMS, file 3297: each output high for one full clock period, one at a time.
  test("has its ten outputs on in order, one at a time", () => {
    expect(rows({ kind: "ring", steps: 10, powerUp })).toEqual([[0], [1], [2], [3], [4], [5], [6], [7], [8], [9]]);
  });

  const decade = parseScenario(
    `
lampdrift: 1
title: Decade counter
opening: { from: "10:00", until: "10:01" , run: 1 }
houses: { q0: {}, q1: {}, q2: {}, q3: {}, q4: {}, q5: {}, q6: {}, q7: {}, q8: {}, q9: {} }
boards:
  slow: { timer: { kind: carry, from: decade }, counter: { kind: ring, steps: 10 }, outputs: {} }
  decade:
    timer: { kind: quartz, step: 1 s }
    counter: { kind: ring, steps: 10 }
    outputs: { 0: q0, 1: q1, 2: q2, 3: q3, 4: q4, 5: q5, 6: q6, 7: q7, 8: q8, 9: q9 }
`,
    "decade.yaml",
  );
  const record = simulate(decade, { trace: true });

  test("lights ten houses for one clock period each, from output 0 after reset", () => {
    // Reset is asynchronous and leaves Q0 high, the others low (4000-series reference page citing TI CD4017B).
    const from = record.openings[0]!.from;
    const spells = Array.from(record.spellStart, (start, i) => [start - from, record.scenes.lit(record.spellScene[i]!)]);
    expect(spells).toEqual(Array.from({ length: 60 }, (_, i) => [i * 1e6, [i % 10]]));
  });

  test("carries once a round, where it goes from 9 to 0", () => {
    // Nexperia HEF4017B rev 9 (8 Apr 2016), section 1: the carry rises on 9 to 0, and a counter steps on the rise.
    const from = record.openings[0]!.from;
    const { time, board, step } = record.trace!;
    const moves = [...time].flatMap((t, i) => (board[i] === 0 && step[i]! >= 0 ? [[t - from, step[i]]] : []));
    expect(moves).toEqual([[0, 0], [10e6, 1], [20e6, 2], [30e6, 3], [40e6, 4], [50e6, 5]]);
  });

  test.each([2, 3, 7, 9])("with reset tied to output %i shows the outputs below it", (steps) => {
    expect(rows({ kind: "ring", steps, powerUp })).toEqual(Array.from({ length: steps }, (_, i) => [i]));
  });
});

describe("counters built from flip-flops (common practice, no source)", () => {
  test.each([1, 2, 3, 4, 5, 6, 11, 64])("a Johnson counter of %i stages is a ring with one twist", (stages) => {
    // all stages move up by one; the first takes the inverse of what the last had
    let state = Array<boolean>(stages).fill(false);
    const expected = [];
    for (let step = 0; step < 2 * stages; step++) {
      expected.push(state.flatMap((on, output) => (on ? [output] : [])));
      state = [!state.at(-1)!, ...state.slice(0, -1)];
    }
    expect(state.every((on) => !on), "back at the start").toBe(true);
    expect(rows({ kind: "johnson", stages, powerUp })).toEqual(expected);
  });

  test("a Johnson counter changes one output a step", () => {
    const seen = rows({ kind: "johnson", stages: 7, powerUp });
    seen.forEach((row, i) => {
      const next = seen[(i + 1) % seen.length]!;
      expect(row.filter((o) => !next.includes(o)).length + next.filter((o) => !row.includes(o)).length).toBe(1);
    });
  });

  test.each([1, 2, 3, 4, 8, 12])("a binary counter of %i bits is a chain of toggles, each fed by the fall of the one before", (bits) => {
    const toggles = Array<boolean>(bits).fill(false);
    const expected = [];
    for (let step = 0; step < 2 ** bits; step++) {
      expected.push(toggles.flatMap((on, output) => (on ? [output] : [])));
      for (let i = 0, clocked = true; i < bits && clocked; i++) {
        toggles[i] = !toggles[i];
        clocked = !toggles[i];
      }
    }
    expect(rows({ kind: "binary", bits, powerUp })).toEqual(expected);
  });
});

/** Stages of a shift register, stage 1 first, walked one clock at a time. */
function clocked(stages: readonly boolean[], taps: readonly number[]): boolean[] {
  const feedback = taps.filter((tap) => stages[tap - 1]).length % 2 === 1;
  return [feedback, ...stages.slice(0, -1)];
}

/** Clocks until the stages are all on again; 0 when that does not happen within 2^n clocks. */
function period(bits: number, taps: readonly number[]): number {
  const all = Array<boolean>(bits).fill(true);
  let stages = all;
  for (let count = 1; count <= 2 ** bits; count++) {
    stages = clocked(stages, taps);
    if (stages.every((on) => on)) return count;
  }
  return 0;
}

// Xilinx XAPP 052 (7 Jul 1996), table of taps, as reproduced in a public document.
const first: readonly (readonly [number, readonly number[]])[] = [
  [3, [3, 2]], [4, [4, 3]], [5, [5, 3]], [6, [6, 5]], [7, [7, 6]], [8, [8, 6, 5, 4]], [9, [9, 5]], [10, [10, 7]],
  [11, [11, 9]], [12, [12, 6, 4, 1]], [13, [13, 4, 3, 1]], [14, [14, 5, 3, 1]], [15, [15, 14]], [16, [16, 15, 13, 4]],
];

// Two public HDL packages; encyclopaedia table of Golomb's polynomials (first rows).
const second: typeof first = [
  [8, [8, 6, 5, 3]], [12, [12, 11, 10, 4]], [13, [13, 12, 11, 8]], [14, [14, 13, 12, 2]], [16, [16, 14, 13, 11]],
];

// VLSI Testing: Digital and Mixed Analogue/Digital Techniques, appendix A, primitive polynomials.
const third: typeof first = [
  [3, [3, 1]], [4, [4, 1]], [5, [5, 2]], [6, [6, 1]], [7, [7, 1]], [8, [8, 6, 5, 1]], [9, [9, 4]], [12, [12, 7, 4, 3]],
];

describe("shift registers with feedback", () => {
  test("use the published taps by default", () => {
    expect(Object.entries(MAXIMAL_TAPS).map(([bits, taps]) => [Number(bits), taps])).toEqual(first);
    for (const [bits, taps] of first) {
      const { boards } = parseScenario(registerText(`bits: ${bits}`), "register.yaml");
      expect(boards[0]!.counter).toEqual({ kind: "lfsr", bits, taps, powerUp: "reset" });
    }
  });

  test.each([...first, ...second, ...third])("of %i stages with taps %j pass through every state but all dark", (bits, taps) => {
    const full = 2 ** bits - 1;
    const states = lfsrStates(bits, taps);
    expect(states.length).toBe(full);
    expect(new Set(states).size).toBe(full);
    expect(Math.min(...states)).toBe(1);
    expect(Math.max(...states)).toBe(full);
    expect(period(bits, taps)).toBe(full);
  });

  test.each(first)("of %i stages with taps %j have each output on for 2^(n-1) of the 2^n - 1 steps", (bits, taps) => {
    // S. W. Golomb, Shift Register Sequences (1967), balance of ones and zeros (from memory).
    const seq = sequence({ kind: "lfsr", bits, taps, powerUp });
    const ones = Array<number>(bits).fill(0);
    for (let step = 0; step < seq.steps; step++) for (const output of seq.on(step)) ones[output]!++;
    expect(seq.steps).toBe(2 ** bits - 1);
    expect(ones).toEqual(Array<number>(bits).fill(2 ** (bits - 1)));
  });

  test("of 4 stages walk as published, stage 1 being the lowest bit and shifts going up", () => {
    // State walk of taps 4, 3 from state 1, computed from the definition in XAPP 052: shift from 1 to n, XOR into stage 1.
    const walk = [1, 2, 4, 9, 3, 6, 13, 10, 5, 11, 7, 15, 14, 12, 8];
    const states = lfsrStates(4, [4, 3]);
    // the counter starts with all stages on, which is state 15
    const start = walk.indexOf(15);
    expect(states).toEqual([...walk.slice(start), ...walk.slice(0, start)]);
    const on = rows({ kind: "lfsr", bits: 4, taps: [4, 3], powerUp });
    expect(on.map((outputs) => outputs.reduce((sum, output) => sum + 2 ** output, 0))).toEqual(states);
  });

  test.each(first.filter(([bits]) => bits <= 10))("of %i stages with taps %j have on what a walk of flip-flops has", (bits, taps) => {
    let stages = Array<boolean>(bits).fill(true);
    for (const outputs of rows({ kind: "lfsr", bits, taps, powerUp })) {
      expect(outputs).toEqual(stages.flatMap((on, output) => (on ? [output] : [])));
      stages = clocked(stages, taps);
    }
  });

  test.each([[4, 2], [5, 6], [6, 6], [7, 18], [8, 16], [9, 48], [10, 60]])(
    "of %i stages have %i sets of taps of full length",
    (bits, expected) => {
      // phi(2^n - 1)/n: Koopman, CMU, maximal length LFSR feedback terms (n = 4 to 7); OEIS A011260.
      let found = 0;
      for (let others = 0; others < 2 ** (bits - 1); others++) {
        const taps = [bits, ...Array.from({ length: bits - 1 }, (_, i) => i + 1).filter((tap) => (others >> (tap - 1)) & 1)];
        if (lfsrStates(bits, taps).length === 2 ** bits - 1) found++;
      }
      expect(found).toBe(expected);
    },
  );

  test.each([
    [4, [4, 2]],
    [5, [5, 1]],
    [6, [6, 3]],
    [8, [8, 7]],
    [8, [8, 4]],
    [16, [16, 8]],
  ])("of %i stages with taps %j are refused, and the message names the length they do give", (bits, taps) => {
    const length = period(bits, taps);
    expect(length).toBeGreaterThan(1);
    expect(length).toBeLessThan(2 ** bits - 1);
    const read = (): unknown => parseScenario(registerText(`bits: ${bits}, taps: [${taps.join(", ")}]`), "register.yaml");
    expect(read).toThrow(`boards.hill.counter.taps: these taps give ${length} steps, not the full ${2 ** bits - 1}`);
  });

  test("that never come back to their start are refused with the length of the round they end in", () => {
    // stages 1 and 2 go round in three steps; what stage 3 has at the start is pushed out and never comes back
    const read = (): unknown => parseScenario(registerText("bits: 3, taps: [2, 1]"), "register.yaml");
    expect(period(3, [2, 1])).toBe(0);
    expect(period(2, [2, 1])).toBe(3);
    expect(read).toThrow("boards.hill.counter.taps: these taps give 3 steps, not the full 7");
  });
});

test("of the holds of a table the least, the mean and the most; all other counters hold every step alike", () => {
  const table = (hold: readonly number[]): Counter => ({ kind: "table", steps: hold.map(() => [0]), hold, powerUp });
  // (1 + 2.5 + 0.5 + 1)/4
  expect(holds(table([1, 2.5, 0.5, 1]))).toEqual({ least: 0.5, mean: 1.25, most: 2.5 });
  expect([[1, 1], [2, 2], [1, 2], [1, 0.5]].map((hold) => isEven(table(hold)))).toEqual([true, false, false, false]);
  expect(holds({ kind: "ring", steps: 3, powerUp })).toEqual({ least: 1, mean: 1, most: 1 });
});

function registerText(counter: string): string {
  return `
lampdrift: 1
title: Register
houses: { a: {} }
boards:
  hill: { timer: { kind: quartz, step: 100 s }, counter: { kind: lfsr, ${counter} }, outputs: { 0: a } }
`;
}
