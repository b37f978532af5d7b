/** How many pulses are taken at a time: few enough to stay in the processor's nearest memory. */
export const SLICE = 512;

/** Some pulses of a run in the order of time, and then what is shown behind each instant of them. */
export class Slice {
  /** When each pulse comes; behind the last of them Infinity. Afterwards the instants. */
  readonly time: Float64Array;
  /** The board that each pulse comes to. */
  readonly board: Int32Array;
  /** The scene that is shown from each instant on. */
  readonly scene: Int32Array;
  /** How many pulses there are, and afterwards how many instants. */
  count = 0;

  constructor(boards: number) {
    // the instant that fills the slice may be one of all boards
    const room = SLICE + boards;
    this.time = new Float64Array(room + 1);
    this.board = new Int32Array(room);
    this.scene = new Int32Array(room);
  }
}
