import { scattered, SceneBook } from "./scenebook.js";
import type { SceneFinder } from "./scenefinder.js";
import type { ScenePlan } from "./sceneplan.js";
import type { Scenes } from "./sceneset.js";
import type { Slice } from "./slice.js";

/** Finds scenes by the mask of lit houses, where boards have too many combinations for a table. */
export class MaskTable implements SceneFinder {
  /** Pattern that each board shows. */
  private readonly shown: Int32Array;
  /** How many boards light each house. */
  private readonly lighting: Int32Array;
  private readonly mask: Int32Array;
  private hash = 0;
  private readonly book: SceneBook;

  constructor(private readonly plan: ScenePlan) {
    this.shown = Int32Array.from(plan.wiring, (_, b) => plan.patternAt[plan.first[b]!]!);
    this.lighting = new Int32Array(plan.houses);
    this.mask = new Int32Array(plan.words);
    this.book = new SceneBook(plan.houses);
    for (const pattern of this.shown) this.switch(pattern, 1);
  }

  move(b: number, step: number): void {
    this.goTo(b, this.plan.first[b]! + step);
  }

  scene(): number {
    return this.book.find(this.mask, this.hash);
  }

  follow(slice: Slice): void {
    const { pulses, time, scene, count, from, scale } = slice;
    const { boardOf } = this.plan;
    let instants = 0;
    for (let i = 0; i < count; i++) {
      const pulse = pulses[i]!;
      const since = Math.floor(pulse / scale);
      const at = pulse - since * scale;
      this.goTo(boardOf[at]!, at);
      if (pulses[i + 1]! < (since + 1) * scale) continue;
      time[instants] = from + since;
      scene[instants++] = this.scene();
    }
    slice.count = instants;
  }

  found(): Scenes {
    return this.book.scenes();
  }

  private goTo(b: number, at: number): void {
    const pattern = this.plan.patternAt[at]!;
    const before = this.shown[b]!;
    if (pattern === before) return;
    this.shown[b] = pattern;
    // on before off: a house in both stays lit all along
    this.switch(pattern, 1);
    this.switch(before, -1);
  }

  private switch(pattern: number, by: 1 | -1): void {
    const turns = by === 1 ? 0 : 1;
    for (const house of this.plan.lit[pattern]!) {
      if (this.lighting[house] === turns) {
        this.mask[house >> 5]! ^= 1 << (house & 31);
        this.hash ^= scattered(house);
      }
      this.lighting[house]! += by;
    }
  }
}
