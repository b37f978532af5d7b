// eslint-disable-next-line @typescript-eslint/triple-slash-reference -- whoever compiles this file needs it, whatever else they compile
/// <reference path="./alea.d.ts" />
import alea from "seedrandom/lib/alea.js";

/** What a stream of random numbers is for. Each purpose of each board of each build has its own. */
export type Purpose = "jitter" | "shuffle" | "power-up" | "glitches" | "parts" | "hunt" | "arrange" | "restarts";

export interface Stream {
  /** Uniform in [0, 1) with 32 bits. */
  uniform(): number;
  /** Uniform over all signed 32-bit integers. */
  int32(): number;
}

/** A stream that draws many numbers at a time, and lets others see which will come next. */
export interface BlockStream extends Stream {
  /** Uniform numbers. Those from place `at` on come next, unless that is behind the last. */
  readonly block: Float64Array;
  /** Whoever takes numbers from the block goes on with it. */
  at: number;
}

/**
 * The random stream for (seed, build, board, purpose). Streams are independent of each other, so that adding a
 * board or a figure changes nothing elsewhere. Build 0 is the nominal one. The generator is alea.
 */
export function stream(seed: string, build: number, board: string, purpose: Purpose): BlockStream {
  // JSON keeps the four parts apart whatever characters they hold
  return new Alea(JSON.stringify([seed, build, board, purpose]));
}

/** How many numbers are drawn at a time. */
const BLOCK = 64;

/**
 * J. Baagøe's alea, a lagged multiply-with-carry generator, as seedrandom has it: seeded by that, and the same numbers.
 * Drawn here, a block at a time, rather than through its closures, which takes most of the time of a simulation with jitter.
 */
class Alea implements BlockStream {
  private state: Record<"s0" | "s1" | "s2" | "c", number>;
  readonly block = new Float64Array(BLOCK);
  at = BLOCK;

  constructor(seed: string) {
    this.state = alea(seed, { state: true }).state() as Record<"s0" | "s1" | "s2" | "c", number>;
  }

  uniform(): number {
    if (this.at === BLOCK) this.draw();
    return this.block[this.at++]!;
  }

  int32(): number {
    return int32Of(this.uniform());
  }

  private draw(): void {
    let { s0, s1, s2, c } = this.state;
    for (let i = 0; i < BLOCK; i++) {
      // 2 ** -32 written as seedrandom has it: the same double
      const next = 2091639 * s0 + c * 2.3283064365386963e-10;
      s0 = s1;
      s1 = s2;
      c = Math.floor(next);
      s2 = next - c;
      this.block[i] = s2;
    }
    this.state = { s0, s1, s2, c };
    this.at = 0;
  }
}

/** The signed 32-bit integer that a uniform number stands for. */
export function int32Of(uniform: number): number {
  return (uniform * 2 ** 32) | 0;
}

/** Uniform integer in 0 … n − 1. */
export function below(source: Stream, n: number): number {
  return Math.floor(source.uniform() * n);
}
