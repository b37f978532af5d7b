/** Builds that are simulated one after the other. */
export interface Chunk {
  /** Number of the first build. */
  readonly first: number;
  readonly count: number;
}

const MOST = 5;

/** Clock pulses in a chunk, a fraction of a second: work can be ended only between chunks. */
const MOST_PULSES = 1_000_000;

/** Builds 1 … count of so many pulses each in chunks, small enough that `workers` share them evenly. */
export function chunksOf(count: number, workers: number, pulses: number): Chunk[] {
  const size = Math.max(1, Math.min(MOST, Math.floor(count / (4 * workers)), Math.floor(MOST_PULSES / pulses)));
  return Array.from({ length: Math.ceil(count / size) }, (_, i) => ({
    first: 1 + i * size,
    count: Math.min(size, count - i * size),
  }));
}

/** The rows of a chunk, one behind the other. */
export function rowsOf(evaluate: (build: number) => Float64Array, { first, count }: Chunk): Float64Array {
  const all = Array.from({ length: count }, (_, i) => evaluate(first + i));
  const width = all[0]!.length;
  const joined = new Float64Array(count * width);
  all.forEach((row, i) => joined.set(row, i * width));
  return joined;
}
