import { growingDoubles, growingInts, type Growing } from "./growing.js";
import type { Trace } from "./record.js";
import type { Micros } from "../units/time.js";

/** Writes down every move of every counter. */
export class TraceBook {
  private readonly time: Growing<Float64Array>;
  private readonly board: Growing<Int32Array>;
  private readonly step: Growing<Int32Array>;

  /** `expected`: how many moves are likely to come. */
  constructor(expected: number) {
    this.time = growingDoubles(expected);
    this.board = growingInts(expected);
    this.step = growingInts(expected);
  }

  readonly note = (time: Micros, board: number, step: number): void => {
    this.time.push(time);
    this.board.push(board);
    this.step.push(step);
  };

  trace(): Trace {
    return { time: this.time.values(), board: this.board.values(), step: this.step.values() };
  }
}
