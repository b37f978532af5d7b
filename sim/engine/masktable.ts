import { scattered, SceneBook } from "./scenebook.js";
import type { SceneFinder } from "./scenefinder.js";
import type { ScenePlan } from "./sceneplan.js";
import type { Scenes } from "./sceneset.js";
import type { Slice } from "./slice.js";

/** Finds scenes by the mask of lit houses, where boards have too many combinations for a table. */
export class MaskTable implements SceneFinder {
  private readonly step: Int32Array;
  /** Pattern that each board shows. */
  private readonly shown: Int32Array;
  /** How many boards light each house. */
  private readonly lighting: Int32Array;
  private readonly mask: Int32Array;
  private hash = 0;
  private readonly book: SceneBook;

  constructor(private readonly plan: ScenePlan) {
    this.step = Int32Array.from(plan.first);
    this.shown = Int32Array.from(plan.first, (first) => plan.patternAt[first]!);
    this.lighting = new Int32Array(plan.houses);
    this.mask = new Int32Array(plan.words);
    this.book = new SceneBook(plan.houses);
    for (const pattern of this.shown) this.switch(pattern, 1);
  }

  move(b: number, step: number): void {
    this.goTo(b, this.plan.first[b]! + step);
  }

  pulse(b: number): void {
    this.goTo(b, this.plan.following[this.step[b]!]!);
  }

  scene(): number {
    return this.book.find(this.mask, this.hash);
  }

  follow(slice: Slice): void {
    const { time, board, scene, count } = slice;
    let instants = 0;
    for (let i = 0; i < count; i++) {
      this.pulse(board[i]!);
      const t = time[i]!;
      if (time[i + 1] === t) continue;
      time[instants] = t;
      scene[instants++] = this.scene();
    }
    slice.count = instants;
  }

  found(): Scenes {
    return this.book.scenes();
  }

  private goTo(b: number, at: number): void {
    this.step[b] = at;
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
