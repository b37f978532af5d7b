import { bisectRight } from "d3-array";
import { sequence, type Sequence } from "../counters/sequence.js";
import type { SceneRecord } from "../engine/record.js";
import { loadAmps } from "../parts/lamps.js";
import type { Scenario } from "../model/scenario.js";

/** A moment of the record: calendar time in microseconds, and the houses (by id) then lit. */
export interface Moment {
  readonly at: number;
  readonly houses: readonly string[];
}

/** The most of something that was recorded while open, and when first; `at` null when there was never any. */
export interface Peak {
  readonly value: number;
  readonly worst: Moment | null;
}

/** What the lamps asked of drivers and supply while the display was open. */
export interface Demand {
  /** Ampere through each output of each board while it is on. */
  readonly outputAmps: readonly (readonly number[])[];
  /** The recorded moment at which something that depends on the outputs of one board that are on was largest. */
  peakOfBoard(board: number, amount: (on: readonly number[]) => number): Peak;
  /** Lamp current of the whole display, ampere. */
  readonly total: Peak;
  /** Its mean over open time. */
  readonly mean: number;
}

/** Ampere through every output of every board while it is on: all its lamps together. */
function outputCurrents({ boards, lamps }: Scenario): number[][] {
  return boards.map(({ outputs }) => outputs.map((loads) => loadAmps(lamps, loads)));
}

/** Goes through a traced record once. Throws when the record has no trace. */
export function demandOf(record: SceneRecord): Demand {
  const { scenario } = record;
  const outputAmps = outputCurrents(scenario);
  const sequences = scenario.boards.map(({ counter }) => sequence(counter));
  const stepAmps = sequences.map((seq, b) => currentByStep(seq, outputAmps[b]!));
  const firstAt = sequences.map(({ steps }) => new Float64Array(steps).fill(Infinity));
  let most = 0;
  let mostAt = Infinity;
  let charge = 0;
  let open = 0;
  eachState(record, (steps, start, end) => {
    let amps = 0;
    for (let b = 0; b < steps.length; b++) {
      const step = steps[b]!;
      if (step < 0) continue;
      amps += stepAmps[b]![step]!;
      if (firstAt[b]![step] === Infinity) firstAt[b]![step] = start;
    }
    if (amps > most) [most, mostAt] = [amps, start];
    charge += amps * (end - start);
    open += end - start;
  });
  return {
    outputAmps,
    peakOfBoard(board, amount) {
      let value = 0;
      let at = Infinity;
      firstAt[board]!.forEach((first, step) => {
        if (first === Infinity) return;
        const here = amount(sequences[board]!.on(step));
        if (here > value || (here === value && value > 0 && first < at)) [value, at] = [here, first];
      });
      return { value, worst: momentAt(record, at) };
    },
    total: { value: most, worst: momentAt(record, mostAt) },
    mean: open === 0 ? 0 : charge / open,
  };
}

/** More than any record can ask: every step is reached, and all boards ask their most at once and always. */
export function utmostDemand(scenario: Scenario): Demand {
  const outputAmps = outputCurrents(scenario);
  const sequences = scenario.boards.map(({ counter }) => sequence(counter));
  const most = sequences.reduce(
    (sum, seq, b) => sum + currentByStep(seq, outputAmps[b]!).reduce((peak, amps) => Math.max(peak, amps), 0),
    0,
  );
  return {
    outputAmps,
    peakOfBoard(board, amount) {
      const seq = sequences[board]!;
      const value = Array.from({ length: seq.steps }, (_, step) => amount(seq.on(step))).reduce((peak, here) => Math.max(peak, here), 0);
      return { value, worst: null };
    },
    total: { value: most, worst: null },
    mean: most,
  };
}

function currentByStep(seq: Sequence, outputAmps: readonly number[]): Float64Array {
  return Float64Array.from({ length: seq.steps }, (_, step) =>
    seq.on(step).reduce((sum, output) => sum + (outputAmps[output] ?? 0), 0),
  );
}

/** Calls `visit` for every stretch of open time in which no counter moves, with the step of each board (−1: no power). */
export function eachState(
  { scenario, trace, openings }: SceneRecord,
  visit: (steps: Int32Array, start: number, end: number) => void,
): void {
  if (trace === null) throw new Error("ratings need a record with a trace");
  const { time, board, step } = trace;
  const steps = new Int32Array(scenario.boards.length).fill(-1);
  let i = 0;
  const moveUpTo = (t: number): void => {
    for (; i < time.length && time[i]! <= t; i++) steps[board[i]!] = step[i]!;
  };
  for (const { from, until } of openings) {
    for (let t = from; t < until; ) {
      moveUpTo(t);
      const end = Math.min(i < time.length ? time[i]! : until, until);
      visit(steps, t, end);
      t = end;
    }
  }
}

/** The houses lit at a time that lies in an opening; null for Infinity. */
function momentAt({ scenario, spellStart, spellScene, scenes }: SceneRecord, at: number): Moment | null {
  if (at === Infinity) return null;
  const spell = bisectRight(spellStart, at) - 1;
  return { at, houses: scenes.lit(spellScene[spell]!).map((house) => scenario.houses[house]!.id) };
}
