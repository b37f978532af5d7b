import { hashOf, SceneBook } from "./scenebook.js";
import type { SceneFinder } from "./scenefinder.js";
import type { ScenePlan } from "./sceneplan.js";
import type { Scenes } from "./sceneset.js";

/** Finds scenes by joint number in a table. Only a combination that was not met before costs more than a look-up. */
export class JointTable implements SceneFinder {
  private readonly step: Int32Array;
  private readonly first: Int32Array;
  private readonly share: Int32Array;
  private joint = 0;
  /** Scene + 1 by joint number, 0 where not yet met. */
  private readonly table: Int32Array;
  private readonly book: SceneBook;
  private readonly mask: Int32Array;

  constructor(private readonly plan: ScenePlan) {
    this.step = Int32Array.from(plan.first);
    this.first = plan.first;
    this.share = plan.share;
    for (const at of this.step) this.joint += plan.share[at]!;
    this.table = new Int32Array(plan.combinations);
    this.book = new SceneBook(plan.houses);
    this.mask = new Int32Array(plan.words);
  }

  move(b: number, step: number): void {
    const at = this.first[b]! + step;
    this.joint += this.share[at]! - this.share[this.step[b]!]!;
    this.step[b] = at;
  }

  scene(): number {
    const known = this.table[this.joint]!;
    return known > 0 ? known - 1 : this.firstMet();
  }

  found(): Scenes {
    return this.book.scenes();
  }

  private firstMet(): number {
    const { words, patternAt, masks, disjoint } = this.plan;
    const { mask } = this;
    mask.fill(0);
    for (const at of this.step) {
      const from = patternAt[at]! * words;
      for (let w = 0; w < words; w++) mask[w]! |= masks[from + w]!;
    }
    const scene = disjoint ? this.book.add(mask) : this.book.find(mask, hashOf(mask));
    this.table[this.joint] = scene + 1;
    return scene;
  }
}
