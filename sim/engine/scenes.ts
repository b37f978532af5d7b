import type { BoardWiring } from "./wiring.js";

/** Largest number of pattern combinations for which scenes are looked up in a plain table. */
const TABLE_LIMIT = 2 ** 22;

/** Up to so many combinations an atlas may serve all builds: it never holds more sets of houses than that. */
const SHARED_LIMIT = 2 ** 16;

type Branch = Map<number, Branch | number>;

/**
 * Which houses the patterns of all boards light together. A joint number stands for the patterns of all boards; it leads
 * to a set of houses through a table, or through maps when there are more combinations than a table should hold. Only a
 * combination never met before costs more than a look-up.
 */
export class Atlas {
  /** The sets of houses met so far, ascending, in order of first appearance in any build. */
  readonly sets: (readonly number[])[] = [];
  /** Weight of a board's pattern in the joint number of its group. */
  readonly weight: Float64Array;
  /** Boards fall into groups whose joint number stays exact in a double. */
  readonly groupOf: Int32Array;
  readonly groups: number;
  /** True when one atlas may serve any number of builds without growing beyond bounds. */
  readonly shareable: boolean;
  private readonly byHouses = new Map<string, number>();
  /** Number of the set + 1 by joint number, 0 where not yet met; null when there are too many combinations. */
  private readonly table: Int32Array | null;
  private readonly root: Branch = new Map();

  constructor(private readonly wiring: readonly BoardWiring[]) {
    const boards = wiring.length;
    this.weight = new Float64Array(boards);
    this.groupOf = new Int32Array(boards);
    let group = 0;
    let size = 1;
    for (let b = 0; b < boards; b++) {
      // a board without power shows one pattern more
      const patterns = wiring[b]!.patterns.length + 1;
      if (size * patterns > Number.MAX_SAFE_INTEGER) {
        group++;
        size = 1;
      }
      this.groupOf[b] = group;
      this.weight[b] = size;
      size *= patterns;
    }
    this.groups = group + 1;
    this.shareable = group === 0 && size <= SHARED_LIMIT;
    this.table = group === 0 && size <= TABLE_LIMIT ? new Int32Array(size) : null;
  }

  get boards(): number {
    return this.wiring.length;
  }

  /** Number of the set of houses lit by these patterns, which the joint numbers stand for. */
  setOf(joint: Float64Array, patterns: Int32Array): number {
    if (this.table === null) return this.setByMaps(joint, patterns);
    const known = this.table[joint[0]!]!;
    if (known > 0) return known - 1;
    const set = this.lookUpHouses(patterns);
    this.table[joint[0]!] = set + 1;
    return set;
  }

  private setByMaps(joint: Float64Array, patterns: Int32Array): number {
    let branch = this.root;
    const last = joint.length - 1;
    for (let group = 0; group < last; group++) {
      let next = branch.get(joint[group]!) as Branch | undefined;
      if (next === undefined) branch.set(joint[group]!, (next = new Map()));
      branch = next;
    }
    const known = branch.get(joint[last]!) as number | undefined;
    if (known !== undefined) return known;
    const set = this.lookUpHouses(patterns);
    branch.set(joint[last]!, set);
    return set;
  }

  private lookUpHouses(patterns: Int32Array): number {
    const lit = new Set<number>();
    for (let b = 0; b < this.wiring.length; b++) {
      const pattern = patterns[b]!;
      if (pattern >= 0) for (const house of this.wiring[b]!.patterns[pattern]!) lit.add(house);
    }
    const houses = [...lit].sort((a, b) => a - b);
    const key = houses.join();
    let set = this.byHouses.get(key);
    if (set === undefined) {
      set = this.sets.push(houses) - 1;
      this.byHouses.set(key, set);
    }
    return set;
  }
}

/** The scene that the boards show in one run. Scenes are numbered in order of first appearance in this run. */
export class SceneTable {
  /** Houses lit in each scene, ascending. */
  readonly scenes: (readonly number[])[] = [];
  private readonly joint: Float64Array;
  private readonly current: Int32Array;
  /** Scene + 1 for each set of the atlas, 0 where not yet shown in this run. */
  private sceneOfSet = new Int32Array(64);

  constructor(private readonly atlas: Atlas) {
    this.joint = new Float64Array(atlas.groups);
    this.current = new Int32Array(atlas.boards).fill(-1);
  }

  /** Board b shows this pattern from now on; −1: it is dark. */
  show(b: number, pattern: number): void {
    const group = this.atlas.groupOf[b]!;
    this.joint[group] = this.joint[group]! + (pattern - this.current[b]!) * this.atlas.weight[b]!;
    this.current[b] = pattern;
  }

  /** Number of the scene now shown. */
  scene(): number {
    const set = this.atlas.setOf(this.joint, this.current);
    const known = set < this.sceneOfSet.length ? this.sceneOfSet[set]! : 0;
    return known > 0 ? known - 1 : this.firstShown(set);
  }

  private firstShown(set: number): number {
    if (set >= this.sceneOfSet.length) {
      const larger = new Int32Array(Math.max(2 * this.sceneOfSet.length, set + 1));
      larger.set(this.sceneOfSet);
      this.sceneOfSet = larger;
    }
    const scene = this.scenes.push(this.atlas.sets[set]!) - 1;
    this.sceneOfSet[set] = scene + 1;
    return scene;
  }
}
