import type { JointMasks } from "./jointmasks.js";
import { hashOf, SceneBook } from "./scenebook.js";
import type { SceneFinder } from "./scenefinder.js";
import type { ScenePlan } from "./sceneplan.js";
import type { Scenes } from "./sceneset.js";
import type { Slice } from "./slice.js";

/** Finds scenes by joint number in a table. Only a combination that was not met before costs more than a look-up. */
export class JointTable implements SceneFinder {
  private joint = 0;
  /** Scene + 1 by joint number, 0 where not yet met. */
  private readonly table: Int32Array;
  private readonly book: SceneBook;
  private readonly mask: Int32Array;

  constructor(
    private readonly plan: ScenePlan,
    private readonly masks: JointMasks,
  ) {
    for (const at of plan.first.subarray(0, -1)) this.joint += plan.share[at]!;
    this.table = new Int32Array(plan.combinations);
    this.book = new SceneBook(plan.houses);
    this.mask = new Int32Array(plan.words);
  }

  move(b: number, step: number): void {
    const { first, share, weight, radix } = this.plan;
    const digit = Math.floor(this.joint / weight[b]!) % radix[b]!;
    this.joint += share[first[b]! + step]! - digit * weight[b]!;
  }

  scene(): number {
    const known = this.table[this.joint]!;
    return known > 0 ? known - 1 : this.firstMet(this.joint);
  }

  follow(slice: Slice): void {
    const { pulses, time, scene, count, from, scale } = slice;
    const { gain } = this.plan;
    const { table } = this;
    const inverse = 1 / scale;
    let { joint } = this;
    let instants = 0;
    for (let i = 0; i < count; i++) {
      const pulse = pulses[i]!;
      const since = Math.floor(pulse * inverse);
      joint += gain[pulse - since * scale]!;
      if (pulses[i + 1]! < (since + 1) * scale) continue;
      const known = table[joint]!;
      time[instants] = from + since;
      scene[instants++] = known > 0 ? known - 1 : this.firstMet(joint);
    }
    this.joint = joint;
    slice.count = instants;
  }

  found(): Scenes {
    return this.book.scenes();
  }

  private firstMet(joint: number): number {
    const { mask } = this;
    this.masks.write(joint, mask);
    const scene = this.plan.disjoint ? this.book.add(mask) : this.book.find(mask, hashOf(mask));
    this.table[joint] = scene + 1;
    return scene;
  }
}
