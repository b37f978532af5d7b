import type { Micros } from "../units/time.js";

/** How exact a number is: whole numbers up to this one are told apart. */
const EXACT = 2 ** 53;

/**
 * The pulses in some span of time: first those of one board behind those of the other, then in the order of time; and then what is
 * shown behind each instant of them. A pulse is one number, which can be ordered at a stroke: its time since the beginning
 * of the slice, times `scale`, and the step that it leads to. The steps of all boards are numbered through.
 */
export class Slice {
  /** When the slice begins. */
  from: Micros = 0;
  /** The pulses. In order there is Infinity behind the last. */
  pulses: Float64Array;
  /** A power of two that no number of a step comes up to. */
  readonly scale: number;
  /** The longest that a slice can be. */
  readonly longest: Micros;
  /** The instants at which there are pulses, and the scene that is shown from each of them on. */
  time: Float64Array;
  scene: Int32Array;
  /** How many pulses there are, and afterwards how many instants. */
  count = 0;
  /** Where the pulses of one board end, and those of the next begin. */
  private readonly bounds: Int32Array;
  private runs = 0;
  /** What is put in order goes from one list to the other. */
  private other: Float64Array;

  /** `steps`: of all boards together; `expected`: how many pulses are likely to come. */
  constructor(boards: number, steps: number, expected: number) {
    this.scale = 2 ** Math.ceil(Math.log2(steps + 1));
    this.longest = EXACT / this.scale - 1;
    this.bounds = new Int32Array(boards + 1);
    this.pulses = new Float64Array(expected);
    this.other = new Float64Array(expected);
    this.time = new Float64Array(expected);
    this.scene = new Int32Array(expected);
  }

  begin(from: Micros): void {
    this.from = from;
    this.count = 0;
    this.runs = 0;
  }

  /** The list of pulses with room for so many behind place `at`. */
  room(at: number, more: number): Float64Array {
    const { pulses } = this;
    if (at + more > pulses.length) {
      const length = 2 * pulses.length + more;
      this.pulses = new Float64Array(length);
      this.pulses.set(pulses);
      this.other = new Float64Array(length);
      this.time = new Float64Array(length);
      this.scene = new Int32Array(length);
    }
    return this.pulses;
  }

  /**
   * Takes as pulses of the next board the times that stand behind those so far, up to place `end`. Its steps are numbered from
   * `first` on, and with the first of these pulses it leaves `step`.
   */
  add(end: number, first: number, steps: number, step: number): void {
    const { pulses, from, scale } = this;
    let at = first + step;
    for (let i = this.count; i < end; i++) {
      at++;
      if (at === first + steps) at = first;
      pulses[i] = (pulses[i]! - from) * scale + at;
    }
    this.bounds[++this.runs] = this.count = end;
  }

  /** Puts the pulses in the order of time; those of one instant come in any. */
  order(): void {
    const { bounds } = this;
    for (let { runs } = this; runs > 1; runs = (runs + 1) >> 1) {
      for (let r = 0; r < runs; r += 2) {
        const end = bounds[Math.min(r + 2, runs)]!;
        this.merge(bounds[r]!, bounds[r + 1]!, end);
        bounds[(r >> 1) + 1] = end;
      }
      const { pulses } = this;
      this.pulses = this.other;
      this.other = pulses;
    }
    this.pulses[this.count] = Infinity;
  }

  /**
   * Puts in order what lies from place `from` on, two runs that meet at `middle` and end at `end`: the earliest to the front and the
   * latest to the back in turn, two chains of work that do not wait for each other. Comparisons are reckoned with, since a
   * processor cannot foresee them.
   */
  private merge(from: number, middle: number, end: number): void {
    const { pulses, other } = this;
    let a = from;
    let b = middle;
    let lastA = middle - 1;
    let lastB = end - 1;
    let front = from;
    let back = lastB;
    while (a <= lastA && b <= lastB) {
      // as long as this neither of the two can run out
      for (let left = Math.min(lastA - a, lastB - b); left >= 0; left--) {
        const isB = Number(pulses[b]! < pulses[a]!);
        other[front++] = pulses[a + ((b - a) & -isB)]!;
        a += 1 - isB;
        b += isB;
        const isA = Number(pulses[lastB]! < pulses[lastA]!);
        other[back--] = pulses[lastB + ((lastA - lastB) & -isA)]!;
        lastA -= isA;
        lastB -= 1 - isA;
      }
    }
    while (a <= lastA) other[front++] = pulses[a++]!;
    while (b <= lastB) other[front++] = pulses[b++]!;
  }
}
