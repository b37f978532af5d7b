import type { Micros } from "../units/time.js";

/** Up to so many times a look at each of them is quicker than a tree. */
const SCANNED = 8;

/** A time for each of several boards, and the board whose time is the earliest. */
export class Earliest {
  private readonly times: Float64Array;
  /** Boards in a tournament: node n has the earlier board of nodes 2n and 2n + 1; the boards themselves come last. */
  private readonly winner: Int32Array;
  private readonly leaves: number;

  constructor(private readonly boards: number) {
    this.leaves = boards <= SCANNED ? 0 : 2 ** Math.ceil(Math.log2(boards));
    this.times = new Float64Array(Math.max(boards, this.leaves)).fill(Infinity);
    this.winner = Int32Array.from({ length: 2 * this.leaves }, (_, n) => n - this.leaves);
    for (let n = this.leaves - 1; n > 0; n--) this.winner[n] = this.winner[2 * n]!;
  }

  time(b: number): number {
    return this.times[b]!;
  }

  set(b: number, time: Micros): void {
    const { times, winner } = this;
    times[b] = time;
    for (let n = (this.leaves + b) >> 1; n > 0 && this.leaves > 0; n >>= 1) {
      const left = winner[2 * n]!;
      const right = winner[2 * n + 1]!;
      winner[n] = times[left]! <= times[right]! ? left : right;
    }
  }

  /** The board with the earliest time; of equal ones any. */
  first(): number {
    if (this.leaves > 0) return this.winner[1]!;
    const { times, boards } = this;
    let first = 0;
    let earliest = times[0]!;
    for (let b = 1; b < boards; b++) {
      if (times[b]! < earliest) {
        first = b;
        earliest = times[b]!;
      }
    }
    return first;
  }
}
