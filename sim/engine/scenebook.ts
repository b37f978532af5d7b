import { Scenes, wordsFor } from "./sceneset.js";

/** The scenes met so far, one mask behind the other, and a table that finds a mask by its hash. */
export class SceneBook {
  private readonly words: number;
  private masks: Int32Array;
  private count = 0;
  /** Hash and scene + 1 side by side; 0 in the second place: free. */
  private slots = new Int32Array(2 * 256);

  constructor(private readonly houses: number) {
    this.words = wordsFor(houses);
    this.masks = new Int32Array(256 * this.words);
  }

  /** Makes a new scene of a mask that is not in the book. */
  add(mask: Int32Array): number {
    const at = this.count * this.words;
    if (at + this.words > this.masks.length) {
      const larger = new Int32Array(2 * this.masks.length);
      larger.set(this.masks);
      this.masks = larger;
    }
    for (let w = 0; w < this.words; w++) this.masks[at + w] = mask[w]!;
    return this.count++;
  }

  /** The scene with a mask, which has this hash; a new one where there is none. */
  find(mask: Int32Array, hash: number): number {
    let slot = this.slotOf(hash);
    for (let known = this.slots[slot + 1]!; known > 0; known = this.slots[slot + 1]!) {
      if (this.slots[slot] === hash && this.equals(known - 1, mask)) return known - 1;
      slot = this.next(slot);
    }
    this.slots[slot] = hash;
    this.slots[slot + 1] = this.count + 1;
    if (4 * this.count > this.slots.length) this.spread();
    return this.add(mask);
  }

  scenes(): Scenes {
    return new Scenes(this.houses, this.masks.subarray(0, this.count * this.words));
  }

  private equals(scene: number, mask: Int32Array): boolean {
    const at = scene * this.words;
    for (let w = 0; w < this.words; w++) if (this.masks[at + w] !== mask[w]) return false;
    return true;
  }

  private slotOf(hash: number): number {
    return 2 * (hash & (this.slots.length / 2 - 1));
  }

  private next(slot: number): number {
    return slot + 2 === this.slots.length ? 0 : slot + 2;
  }

  /** Twice as many slots. */
  private spread(): void {
    const before = this.slots;
    this.slots = new Int32Array(2 * before.length);
    for (let i = 0; i < before.length; i += 2) {
      if (before[i + 1] === 0) continue;
      let slot = this.slotOf(before[i]!);
      while (this.slots[slot + 1]! > 0) slot = this.next(slot);
      this.slots[slot] = before[i]!;
      this.slots[slot + 1] = before[i + 1]!;
    }
  }
}

/**
 * A number for each house, as if drawn; the numbers of all lit houses, joined by exclusive or, are the hash of a scene,
 * which so changes with every house by itself (A. L. Zobrist 1970, from memory). The mixing is MurmurHash3's finaliser,
 * from memory.
 */
export function scattered(house: number): number {
  let h = Math.imul(house + 1, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}

/** The hash of a mask. */
export function hashOf(mask: Int32Array): number {
  let hash = 0;
  for (let w = 0; w < mask.length; w++) {
    for (let bits = mask[w]!; bits !== 0; bits &= bits - 1) hash ^= scattered(32 * w + 31 - Math.clz32(bits & -bits));
  }
  return hash;
}
