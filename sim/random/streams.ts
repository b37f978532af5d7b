import seedrandom from "seedrandom";

/** What a stream of random numbers is for. Each purpose of each board of each build has its own. */
export type Purpose = "jitter" | "shuffle" | "power-up" | "glitches" | "parts" | "hunt";

export interface Stream {
  /** Uniform in [0, 1) with 32 bits. */
  uniform(): number;
  /** Uniform over all signed 32-bit integers. */
  int32(): number;
}

/**
 * The random stream for (seed, build, board, purpose). Streams are independent of each other, so that adding a
 * board or a figure changes nothing elsewhere. Build 0 is the nominal one. The generator is seedrandom's alea.
 */
export function stream(seed: string, build: number, board: string, purpose: Purpose): Stream {
  // JSON keeps the four parts apart whatever characters they hold
  const generator = seedrandom.alea(JSON.stringify([seed, build, board, purpose]));
  return { uniform: generator, int32: () => generator.int32() };
}

/** Uniform integer in 0 … n − 1. */
export function below(source: Stream, n: number): number {
  return Math.floor(source.uniform() * n);
}
