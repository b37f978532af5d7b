/** Faults put into a display by hand: rows of outputs in place of a counter, or loads taken away. */
import type { Fault } from "../../sim/faults/index.js";
import { cycleLength, holdAt, outputsOn } from "./counters.js";
import type { Board, Spec } from "./spec.js";

/** The display that has a fault. `dial`: where the knob stands, for a knob that is off. */
export function plantedByHand(spec: Spec, { kind, board, spot }: Fault, dial: number): Spec {
  if (board === null) return { ...spec, boards: spec.boards.map((was) => rows(was, () => [])) };
  const change = (by: (was: Board) => Board): Spec => ({ ...spec, boards: spec.boards.map((was) => (was.id === board ? by(was) : was)) });
  const kept = (keeps: (house: string, output: number, was: Board) => boolean): Spec =>
    change((was) => ({ ...was, outputs: was.outputs.map((ids, o) => ids.filter((id) => keeps(id, o, was))) }));
  switch (spot.part) {
    case "house wire":
    case "lamp":
      return kept((id, o) => o !== spot.output || id !== spec.houses[spot.house]!.id);
    case "house plus wire":
      return kept((id) => id !== spec.houses[spot.house]!.id);
    case "input wire":
      return kept((_, o) => o !== spot.output);
    case "channel":
      return kind === "channel-open" ? kept((_, o) => o !== spot.output) : change((was) => rows(was, (on) => [...new Set([...on, spot.output])]));
    case "driver minus wire":
      return kept((_, o, was) => packageOf(was, o) !== spot.place);
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
