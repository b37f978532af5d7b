import { hashOf, SceneBook } from "./scenebook.js";
import type { SceneFinder } from "./scenefinder.js";
import type { ScenePlan } from "./sceneplan.js";
import type { Scenes } from "./sceneset.js";
import type { Slice } from "./slice.js";

/** Finds scenes by joint number in a table. Only a combination that was not met before costs more than a look-up. */
export class JointTable implements SceneFinder {
  private readonly step: Int32Array;
  private joint = 0;
  /** Scene + 1 by joint number, 0 where not yet met. */
  private readonly table: Int32Array;
  private readonly book: SceneBook;
  private readonly mask: Int32Array;

  constructor(private readonly plan: ScenePlan) {
    this.step = Int32Array.from(plan.first);
    for (const at of this.step) this.joint += plan.share[at]!;
    this.table = new Int32Array(plan.combinations);
    this.book = new SceneBook(plan.houses);
    this.mask = new Int32Array(plan.words);
  }

  move(b: number, step: number): void {
    this.goTo(b, this.plan.first[b]! + step);
  }

  pulse(b: number): void {
    this.goTo(b, this.plan.following[this.step[b]!]!);
  }

  scene(): number {
    const known = this.table[this.joint]!;
    return known > 0 ? known - 1 : this.firstMet();
  }

  /** The same as pulse and scene one after the other, without looking up where they are kept each time. */
  follow(slice: Slice): void {
    const { time, board, scene, count } = slice;
    const { gain, following } = this.plan;
    const { step, table } = this;
    let joint = this.joint;
    let instants = 0;
    for (let i = 0; i < count; i++) {
      const b = board[i]!;
      const at = step[b]!;
      step[b] = following[at]!;
      joint += gain[at]!;
      const t = time[i]!;
      if (time[i + 1] === t) continue;
      let known = table[joint]!;
      if (known === 0) {
        this.joint = joint;
        known = this.firstMet() + 1;
      }
      time[instants] = t;
      scene[instants++] = known - 1;
    }
    this.joint = joint;
    slice.count = instants;
  }

  found(): Scenes {
    return this.book.scenes();
  }

  private goTo(b: number, at: number): void {
    const { share } = this.plan;
    this.joint += share[at]! - share[this.step[b]!]!;
    this.step[b] = at;
  }

  private firstMet(): number {
    const { words, patternAt, masks, disjoint } = this.plan;
    const { mask, step } = this;
    for (let w = 0; w < words; w++) {
      let lit = 0;
      for (let b = 0; b < step.length; b++) lit |= masks[patternAt[step[b]!]! * words + w]!;
      mask[w] = lit;
    }
    const scene = disjoint ? this.book.add(mask) : this.book.find(mask, hashOf(mask));
    this.table[this.joint] = scene + 1;
    return scene;
  }
}
