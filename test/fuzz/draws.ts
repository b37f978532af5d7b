import seedrandom from "seedrandom";

/** Draws by lot, the same from the same seed. */
export class Draws {
  readonly #random: seedrandom.PRNG;

  constructor(seed: string) {
    this.#random = seedrandom.alea(seed);
  }

  below(n: number): number {
    return Math.floor(this.#random() * n);
  }

  chance(share: number): boolean {
    return this.#random() < share;
  }

  of<T>(list: readonly T[]): T {
    return list[this.below(list.length)]!;
  }

  some<T>(list: readonly T[]): T[] {
    return list.filter(() => this.chance(0.5));
  }
}
