import type { Trace } from "../../sim/engine/record.js";
import type { Stretch } from "./clock-axis.js";
import type { Micros } from "../../sim/units/time.js";

export interface StepStretch extends Stretch {
  readonly step: number;
}

/** More steps than this are not drawn one by one. */
const MOST_STEPS = 1500;

/** The steps of each board within a window; null for a board that steps too often to be drawn. */
export function stepRows({ time, board, step }: Trace, boards: number, window: Stretch): (StepStretch[] | null)[] {
  const current = new Int32Array(boards).fill(-1);
  const since = new Float64Array(boards).fill(window.from);
  const rows: StepStretch[][] = Array.from({ length: boards }, () => []);
  const end = (b: number, t: Micros): void => {
    if (current[b]! >= 0 && t > since[b]! && rows[b]!.length <= MOST_STEPS) {
      rows[b]!.push({ from: since[b]!, until: t, step: current[b]! });
    }
  };
  for (let i = 0; i < time.length && time[i]! < window.until; i++) {
    const b = board[i]!;
    if (time[i]! > window.from) {
      end(b, time[i]!);
      since[b] = time[i]!;
    }
    current[b] = step[i]!;
  }
  for (let b = 0; b < boards; b++) end(b, window.until);
  return rows.map((row) => (row.length <= MOST_STEPS ? row : null));
}
