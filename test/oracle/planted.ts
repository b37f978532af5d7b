/** Faults put into a display by hand: rows of outputs in place of a counter, or loads taken away. */
import type { Fault } from "../../sim/faults/index.js";
import { cycleLength, holdAt, outputsOn } from "./counters.js";
import type { Board, Spec } from "./spec.js";

/** How a fault that may show in several ways does so. */
export interface Way {
  /** Where the knob stands, for one that is off. */
  dial: number;
  /** For a bad capacitor: what leaks through it (ampere) and its capacitance (farad), or how long its board's steps last (seconds). */
  leakage: number;
  farads: number;
  step: number;
  /** The step at which the board wakes. */
  wakes: number;
  /** Moments at which it begins anew. */
  restarts: readonly number[];
  /** For a leaky capacitor: whether the timer has stopped. */
  stopped: boolean;
  /** The least state of the loop in which a locked counter goes round; bit i is output i. */
  loopFrom: number;
}

/** The display that has a fault, in one of its ways. */
export function plantedByHand(spec: Spec, { kind, board, spot }: Fault, way: Way): Spec {
  const { dial } = way;
  if (board === null) return { ...spec, boards: spec.boards.map((was) => rows(was, () => [])) };
  const change = (by: (was: Board) => Board): Spec => ({ ...spec, boards: spec.boards.map((was) => (was.id === board ? by(was) : was)) });
  const kept = (keeps: (house: string, output: number, was: Board) => boolean): Spec =>
    change((was) => ({ ...was, outputs: was.outputs.map((ids, o) => ids.filter((id) => keeps(id, o, was))) }));
  switch (spot.part) {
    case "house wire":
      return kept((id, o) => o !== spot.output || id !== spec.houses[spot.house]!.id);
    case "lamp": {
      // the lamps of a house that only one board lights are one set, which all its outputs switch
      const house = spec.houses[spot.house]!.id;
      const elsewhere = spec.boards.some(({ id, outputs }) => id !== board && outputs.flat().includes(house));
      return kept((id, o) => id !== house || (elsewhere && o !== spot.output));
    }
    case "house plus wire":
      return kept((id) => id !== spec.houses[spot.house]!.id);
    case "input wire":
      return kept((_, o) => o !== spot.output);
    case "channel":
      return kind === "channel-open" ? kept((_, o) => o !== spot.output) : change((was) => rows(was, (on) => [...new Set([...on, spot.output])]));
    case "driver minus wire":
      return kept((_, o, was) => packageOf(was, o) !== spot.place);
    case "channel wires": {
      const [one, other] = spot.outputs;
      return change((was) => ({ ...was, outputs: was.outputs.map((ids, o, all) => (o === one ? all[other]! : o === other ? all[one]! : ids)) }));
    }
    case "two channels":
      return change((was) => rows(was, (on) => (spot.outputs.some((output) => on.includes(output)) ? [...new Set([...on, ...spot.outputs])] : on)));
    case "track":
      return plantedByHand(spec, { kind, board, where: "", text: "", spot: { part: "knob", turned: "long" } }, { ...way, dial: 1 });
    case "capacitor":
      if (way.stopped) return plantedByHand(spec, { kind, board, where: "", text: "", spot: { part: "clock" } }, way);
      return change((was) => {
        if (was.timer.kind === "measured") return { ...was, timer: { ...was.timer, step: way.step } };
        if (was.timer.kind !== "astable") throw new Error("no capacitor");
        return { ...was, timer: { ...was.timer, leakage: way.leakage, c: { ...was.timer.c, value: way.farads } } };
      });
    case "start":
      return change((was) => ({ ...was, wakes: way.wakes }));
    case "joint":
      return change((was) => ({ ...was, restarts: way.restarts }));
    case "register":
      if (spec.boards.some(({ id, counter }) => id === board && counter.kind === "lfsr")) {
        return plantedByHand(spec, { kind, board, where: "", text: "", spot: { part: "supply" } }, way);
      }
      return change((was) => {
        if (was.counter.kind !== "johnson") throw new Error("no register");
        const states = loopOf(was.counter.stages, way.loopFrom);
        return { ...was, counter: { kind: "table", steps: states, hold: states.map(() => 1) }, wakes: way.wakes };
      });
    case "reset wire":
      // a decade counter that runs on: the outputs behind those in use light nothing
      return change((was) => {
        const steps = [...Array(10).keys()];
        return { ...was, counter: { kind: "table", steps: steps.map((s) => (s < cycleLength(was.counter) ? [s] : [])), hold: steps.map(() => 1) } };
      });
    case "knob":
      return change((was) => {
        if (was.timer.kind !== "astable" || was.timer.trimmer === undefined) throw new Error("no knob");
        return { ...was, timer: { ...was.timer, trimmer: { ...was.timer.trimmer, dial } } };
      });
    default: {
      // whatever is clocked by a board that stands still stands still, too
      const dark = ["plus wire", "minus wire", "supply"].includes(spot.part);
      const still = new Set([board]);
      for (const { id, timer } of spec.boards) if (timer.kind === "carry" && still.has(timer.from)) still.add(id);
      const standing = (was: Board): Board => (still.has(was.id) ? rows(was, () => (dark && was.id === board ? [] : outputsOn(was.counter, 0))) : was);
      return { ...spec, boards: spec.boards.map(standing) };
    }
  }
}

/** The board with another row of outputs at each step. */
function rows(board: Board, row: (outputs: number[]) => number[]): Board {
  const steps = [...Array(cycleLength(board.counter)).keys()];
  return { ...board, counter: { kind: "table", steps: steps.map((s) => row(outputsOn(board.counter, s))), hold: steps.map((s) => holdAt(board.counter, s)) } };
}

/** Up to eight outputs share a package; of nine or ten, which need two, the first five go to the first. */
function packageOf(board: Board, output: number): number {
  const connected = board.outputs.flatMap((ids, o) => (ids.length > 0 ? [o] : []));
  if (connected.length > 10) throw new Error("more outputs than any of these displays has");
  return connected.length > 8 && connected.indexOf(output) >= 5 ? 1 : 0;
}

/** The states of a Johnson counter without a gate, clock by clock from one until it is back: the outputs that are on. */
function loopOf(stages: number, from: number): number[][] {
  const start = Array.from({ length: stages }, (_, stage) => Math.floor(from / 2 ** stage) % 2 === 1);
  const states: boolean[][] = [];
  for (let state = start; states.length === 0 || state.join() !== start.join(); state = [!state[stages - 1]!, ...state.slice(0, -1)]) states.push(state);
  return states.map((state) => state.flatMap((on, output) => (on ? [output] : [])));
}
