import { light, wordsFor } from "./sceneset.js";
import { firstSteps, type BoardWiring } from "./wiring.js";

/** The wiring of all boards as masks and joint numbers. */
export class ScenePlan {
  readonly words: number;
  /** Steps of board b are those numbered first[b] … */
  readonly first: Int32Array;
  /** The board that each step belongs to. */
  readonly boardOf: Int32Array;
  readonly patternAt: Int32Array;
  /** Patterns of board b are those numbered firstPattern[b] … */
  readonly firstPattern: Int32Array;
  readonly masks: Int32Array;
  readonly lit: readonly (readonly number[])[];
  /**
   * A joint number stands for the patterns of all boards, each of which is a digit of it. How many patterns a board has, what one
   * more adds, and what each step of each board adds.
   */
  readonly radix: Int32Array;
  readonly weight: Float64Array;
  readonly share: Int32Array;
  /** What it gains when the board comes to each step from the one before. */
  readonly gain: Int32Array;
  readonly combinations: number;
  /** True: no house is on two boards, so that different joint numbers are different scenes. */
  readonly disjoint: boolean;

  constructor(
    readonly houses: number,
    readonly wiring: readonly BoardWiring[],
  ) {
    const boards = wiring.length;
    this.words = wordsFor(houses);
    this.first = firstSteps(wiring);
    this.firstPattern = new Int32Array(boards);
    let patterns = 0;
    let combinations = 1;
    this.radix = Int32Array.from(wiring, ({ patterns: own }) => own.length);
    this.weight = Float64Array.from(wiring, ({ patterns: own }, b) => {
      this.firstPattern[b] = patterns;
      patterns += own.length;
      const weight = combinations;
      combinations *= own.length;
      return weight;
    });
    this.combinations = combinations;
    const steps = this.first[boards]!;
    this.boardOf = new Int32Array(steps);
    this.patternAt = new Int32Array(steps);
    this.share = new Int32Array(steps);
    this.gain = new Int32Array(steps);
    this.masks = new Int32Array(patterns * this.words);
    this.lit = wiring.flatMap(({ patterns: own }) => own);
    this.lit.forEach((lit, pattern) => light(this.masks, pattern * this.words, lit));
    wiring.forEach(({ patternAt }, b) => {
      patternAt.forEach((pattern, step) => {
        const at = this.first[b]! + step;
        this.boardOf[at] = b;
        this.patternAt[at] = this.firstPattern[b]! + pattern;
        // never read where there are too many combinations for a table
        this.share[at] = pattern * this.weight[b]!;
        this.gain[at] = (pattern - patternAt.at(step - 1)!) * this.weight[b]!;
      });
    });
    const owned = wiring.map(({ patterns: own }) => new Set(own.flat()));
    this.disjoint = owned.reduce((sum, { size }) => sum + size, 0) === new Set(owned.flatMap((own) => [...own])).size &&
      wiring.every(({ patterns: own }) => new Set(own.map((lit) => lit.join())).size === own.length);
  }
}
