import { light, wordsFor } from "./sceneset.js";
import type { BoardWiring } from "./wiring.js";

/** The wiring of all boards as masks and joint numbers. */
export class ScenePlan {
  readonly words: number;
  /** Steps of board b are those numbered first[b] … */
  readonly first: Int32Array;
  /** The step that comes after each. */
  readonly following: Int32Array;
  readonly patternAt: Int32Array;
  /** Patterns of board b are those numbered firstPattern[b] … */
  readonly firstPattern: Int32Array;
  readonly masks: Int32Array;
  readonly lit: readonly (readonly number[])[];
  /** A joint number stands for the patterns of all boards; what each step of each board adds to it. */
  readonly share: Int32Array;
  /** What it gains when the board goes from each step to the following one. */
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
    this.first = new Int32Array(boards);
    this.firstPattern = new Int32Array(boards);
    let steps = 0;
    let patterns = 0;
    let combinations = 1;
    const weights = wiring.map(({ patternAt, patterns: own }, b) => {
      this.first[b] = steps;
      this.firstPattern[b] = patterns;
      steps += patternAt.length;
      patterns += own.length;
      const weight = combinations;
      combinations *= own.length;
      return weight;
    });
    this.combinations = combinations;
    this.following = Int32Array.from({ length: steps }, (_, step) => step + 1);
    this.patternAt = new Int32Array(steps);
    this.share = new Int32Array(steps);
    this.masks = new Int32Array(patterns * this.words);
    this.lit = wiring.flatMap(({ patterns: own }) => own);
    this.lit.forEach((lit, pattern) => light(this.masks, pattern * this.words, lit));
    wiring.forEach(({ patternAt }, b) => {
      this.following[this.first[b]! + patternAt.length - 1] = this.first[b]!;
      patternAt.forEach((pattern, step) => {
        this.patternAt[this.first[b]! + step] = this.firstPattern[b]! + pattern;
        // never read where there are too many combinations for a table
        this.share[this.first[b]! + step] = pattern * weights[b]!;
      });
    });
    this.gain = this.share.map((share, step) => this.share[this.following[step]!]! - share);
    const owned = wiring.map(({ patterns: own }) => new Set(own.flat()));
    this.disjoint = owned.reduce((sum, { size }) => sum + size, 0) === new Set(owned.flatMap((own) => [...own])).size &&
      wiring.every(({ patterns: own }) => new Set(own.map((lit) => lit.join())).size === own.length);
  }
}
