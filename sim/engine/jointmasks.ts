import type { ScenePlan } from "./sceneplan.js";

/** Neighbouring boards are taken together while they have no more combinations of patterns than this. */
const TOGETHER = 512;

/** The houses that are lit at a joint number, for a few boards at a time: what those show together is worked out once for all runs. */
export class JointMasks {
  /** How many combinations each group of boards has. */
  private readonly combinations: number[] = [];
  /** The masks of its combinations, group behind group, and which of them is the first of each. */
  private readonly masks: Int32Array;
  private readonly first: number[] = [];
  private readonly words: number;

  constructor({ radix, firstPattern, masks, words }: ScenePlan) {
    this.words = words;
    const lit: number[] = [];
    for (let b = 0; b < radix.length; ) {
      // at first there is one combination of no boards, with nothing lit
      let group = new Array<number>(words).fill(0);
      let count = 1;
      do {
        const own = Array.from({ length: radix[b]! }, (_, p) => (firstPattern[b]! + p) * words);
        group = own.flatMap((at) => group.map((word, i) => word | masks[at + (i % words)]!));
        count *= radix[b++]!;
      } while (b < radix.length && count * radix[b]! <= TOGETHER);
      this.first.push(lit.length / words);
      this.combinations.push(count);
      for (const word of group) lit.push(word);
    }
    this.masks = Int32Array.from(lit);
  }

  /** Writes the mask of the houses lit at a joint number. */
  write(joint: number, into: Int32Array): void {
    const { combinations, first, masks, words } = this;
    let rest = joint;
    for (let g = 0; g < first.length; g++) {
      const count = combinations[g]!;
      const others = (rest / count) | 0;
      const at = (first[g]! + rest - others * count) * words;
      for (let w = 0; w < words; w++) into[w] = (g === 0 ? 0 : into[w]!) | masks[at + w]!;
      rest = others;
    }
  }
}
