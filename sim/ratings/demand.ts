import { bisectRight } from "d3-array";
import { sequence, type Sequence } from "../counters/sequence.js";
import type { SceneRecord } from "../engine/record.js";
import { chipAmps, inputAmps } from "./own.js";
import { channelLoads, lampsOfHouses, loadAmps, type LampSet } from "../parts/lamps.js";
import type { Board, Load, Scenario } from "../model/scenario.js";
import type { Micros } from "../units/time.js";

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
  /** What each output of each board carries while it is on: of a house wired together all lamps. */
  readonly outputLoads: readonly (readonly (readonly Load[])[])[];
  /** Ampere through each output of each board while it is on. */
  readonly outputAmps: readonly (readonly number[])[];
  /** The recorded moment at which something that depends on the outputs of one board that are on was largest. */
  peakOfBoard(board: number, amount: (on: readonly number[]) => number): Peak;
  /** Current of the whole display, ampere: each lamp once, and what the boards take for themselves. */
  readonly total: Peak;
  /** Its mean over open time. */
  readonly mean: number;
}

/** The lamps in every house, and what every output carries while it is on. */
function carried(scenario: Scenario): { standing: LampSet[][]; outputLoads: Load[][][]; outputAmps: number[][] } {
  const { boards, houses, lamps } = scenario;
  const standing = lampsOfHouses(scenario);
  const outputLoads = boards.map(({ outputs }) => outputs.map((loads) => channelLoads(houses, standing, loads)));
  return { standing, outputLoads, outputAmps: outputLoads.map((outputs) => outputs.map((loads) => loadAmps(lamps, loads))) };
}

/** Goes through a traced record once. Throws when the record has no trace. */
export function demandOf(record: SceneRecord): Demand {
  const { scenario } = record;
  const { boards, houses, lamps, supply } = scenario;
  const { standing, outputLoads, outputAmps } = carried(scenario);
  // what a step draws by itself: lamps wired apart and the board's own; houses wired together count once over all boards
  const together = houses.map(({ wired }) => wired === "together");
  const apartAmps = boards.map(({ outputs }) => outputs.map((loads) => loadAmps(lamps, loads.filter(({ house }) => !together[house]!))));
  const setAmps = standing.map((sets) => loadAmps(lamps, sets));
  const sequences = scenario.boards.map(({ counter }) => sequence(counter));
  const stepAmps = sequences.map((seq, b) => currentByStep(seq, apartAmps[b]!));
  const stepHouses = sequences.map((seq, b) => joinedByStep(seq, boards[b]!, together));
  const ownAmps = sequences.map((seq, b) => ownByStep(seq, boards[b]!, supply.volts));
  const countedIn = new Int32Array(houses.length).fill(-1);
  let state = 0;
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
      amps += stepAmps[b]![step]! + ownAmps[b]![step]!;
      for (const house of stepHouses[b]![step]!) {
        if (countedIn[house] === state) continue;
        countedIn[house] = state;
        amps += setAmps[house]!;
      }
      if (firstAt[b]![step] === Infinity) firstAt[b]![step] = start;
    }
    state++;
    if (amps > most) [most, mostAt] = [amps, start];
    charge += amps * (end - start);
    open += end - start;
  });
  return {
    outputLoads,
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
  const { outputLoads, outputAmps } = carried(scenario);
  const { boards, supply } = scenario;
  const sequences = scenario.boards.map(({ counter }) => sequence(counter));
  const most = sequences.reduce(
    (sum, seq, b) => {
      const own = ownByStep(seq, boards[b]!, supply.volts);
      return sum + currentByStep(seq, outputAmps[b]!).reduce((peak, amps, step) => Math.max(peak, amps + own[step]!), 0);
    },
    0,
  );
  return {
    outputLoads,
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

/** The houses wired together that are lit at each step. */
function joinedByStep(seq: Sequence, { outputs }: Board, together: readonly boolean[]): number[][] {
  return Array.from({ length: seq.steps }, (_, step) => [
    ...new Set(seq.on(step).flatMap((output) => (outputs[output] ?? []).flatMap(({ house }) => (together[house]! ? [house] : [])))),
  ]);
}

/** What a board's chips take at each step, with what they give to the driver's inputs. */
function ownByStep(seq: Sequence, board: Board, volts: number): Float64Array {
  const chips = chipAmps(board);
  const input = board.driver.kind === "darlington-8" ? inputAmps(volts) : 0;
  return Float64Array.from({ length: seq.steps }, (_, step) => {
    const driven = seq.on(step).filter((output) => (board.outputs[output] ?? []).length > 0);
    return chips + input * driven.length;
  });
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
  const moveUpTo = (t: Micros): void => {
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
