/**
 * The scenes of a run as bit masks, numbered from 0 in order of first appearance. Lists of houses are made only when
 * somebody asks for them: a long run of many boards has hundreds of thousands of scenes.
 */
export class Scenes {
  /** 32-bit words of one scene. */
  readonly words: number;
  private counts: Int32Array | undefined;

  constructor(
    /** Number of houses of the display. */
    readonly houses: number,
    /** House h of scene s is bit h mod 32 of word s·words + floor(h/32). */
    readonly masks: Int32Array,
  ) {
    this.words = wordsFor(houses);
  }

  /** Scenes with these houses lit. */
  static of(houses: number, lists: readonly (readonly number[])[]): Scenes {
    const words = wordsFor(houses);
    const masks = new Int32Array(lists.length * words);
    lists.forEach((lit, scene) => light(masks, scene * words, lit));
    return new Scenes(houses, masks);
  }

  /** Number of scenes. */
  get length(): number {
    return this.masks.length / this.words;
  }

  /** Houses lit in a scene, ascending. */
  lit(scene: number): number[] {
    const found: number[] = [];
    const { words, masks } = this;
    for (let w = 0; w < words; w++) {
      for (let bits = masks[scene * words + w]!; bits !== 0; bits &= bits - 1) found.push(32 * w + lowestBit(bits));
    }
    return found;
  }

  /** Whether a house is lit in a scene. */
  isLit(scene: number, house: number): boolean {
    return ((this.masks[scene * this.words + (house >> 5)]! >> (house & 31)) & 1) === 1;
  }

  /** Number of houses lit in a scene. All scenes are counted when the first is asked for. */
  count(scene: number): number {
    return (this.counts ??= this.counted())[scene]!;
  }

  private counted(): Int32Array {
    const { words, masks } = this;
    const counts = new Int32Array(this.length);
    for (let scene = 0, at = 0; scene < counts.length; scene++) {
      let count = 0;
      for (const end = at + words; at < end; at++) count += bitCount(masks[at]!);
      counts[scene] = count;
    }
    return counts;
  }

  /** Whether a scene has a house lit that is in a mask of one scene's length. */
  meets(scene: number, mask: Int32Array): boolean {
    for (let w = 0; w < this.words; w++) if ((this.masks[scene * this.words + w]! & mask[w]!) !== 0) return true;
    return false;
  }

  /** Writes the houses that differ between two scenes into a list, ascending; returns how many. −1: nothing lit. */
  changed(before: number, after: number, into: Int32Array): number {
    const { words, masks } = this;
    let count = 0;
    for (let w = 0; w < words; w++) {
      let bits = (before < 0 ? 0 : masks[before * words + w]!) ^ (after < 0 ? 0 : masks[after * words + w]!);
      for (; bits !== 0; bits &= bits - 1) into[count++] = 32 * w + lowestBit(bits);
    }
    return count;
  }
}

/** 32-bit words that hold a bit for each of so many houses. */
export function wordsFor(houses: number): number {
  return Math.max(1, Math.ceil(houses / 32));
}

/** Sets the bits of these houses in the mask that begins at word `at`. */
export function light(masks: Int32Array, at: number, houses: readonly number[]): void {
  for (const house of houses) masks[at + (house >> 5)]! |= 1 << (house & 31);
}

/** Number of the lowest bit that is set. */
export function lowestBit(bits: number): number {
  return 31 - Math.clz32(bits & -bits);
}

/** Number of ones, summed in parallel over ever wider fields. */
function bitCount(bits: number): number {
  const pairs = bits - ((bits >>> 1) & 0x55555555);
  const nibbles = (pairs & 0x33333333) + ((pairs >>> 2) & 0x33333333);
  return Math.imul((nibbles + (nibbles >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}
