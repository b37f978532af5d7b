import type { BoardWiring } from "./wiring.js";

/** Largest number of pattern combinations for which scenes are looked up in a plain table. */
const TABLE_LIMIT = 2 ** 22;

type Branch = Map<number, Branch | number>;

/**
 * Which scene the patterns of all boards make together. Scenes are numbered in order of first appearance. A pattern
 * change moves a joint number; the joint number leads to the scene through a table, or through maps when there are
 * more combinations than a table should hold. Only a combination never met before costs more than a look-up.
 */
export class SceneTable {
  /** Houses lit in each scene, ascending. */
  readonly scenes: (readonly number[])[] = [];
  private readonly byHouses = new Map<string, number>();
  private readonly weight: Float64Array;
  private readonly groupOf: Int32Array;
  private readonly joint: Float64Array;
  private readonly current: Int32Array;
  /** Scene number + 1 by joint number, 0 where not yet met; null when there are too many combinations. */
  private readonly table: Int32Array | null;
  private readonly root: Branch = new Map();

  constructor(private readonly wiring: readonly BoardWiring[]) {
    const boards = wiring.length;
    this.weight = new Float64Array(boards);
    this.groupOf = new Int32Array(boards);
    this.current = new Int32Array(boards).fill(-1);
    // Boards fall into groups whose joint number stays exact in a double; a dark board is one pattern more
    let group = 0;
    let size = 1;
    for (let b = 0; b < boards; b++) {
      const patterns = wiring[b]!.patterns.length + 1;
      if (size * patterns > Number.MAX_SAFE_INTEGER) {
        group++;
        size = 1;
      }
      this.groupOf[b] = group;
      this.weight[b] = size;
      size *= patterns;
    }
    this.joint = new Float64Array(group + 1);
    this.table = group === 0 && size <= TABLE_LIMIT ? new Int32Array(size) : null;
  }

  /** Board b shows this pattern from now on; −1: it is dark. */
  show(b: number, pattern: number): void {
    const group = this.groupOf[b]!;
    this.joint[group] = this.joint[group]! + (pattern - this.current[b]!) * this.weight[b]!;
    this.current[b] = pattern;
  }

  /** Number of the scene now shown. */
  scene(): number {
    if (this.table === null) return this.sceneByMaps();
    const joint = this.joint[0]!;
    const known = this.table[joint]!;
    if (known > 0) return known - 1;
    const scene = this.lookUpHouses();
    this.table[joint] = scene + 1;
    return scene;
  }

  private sceneByMaps(): number {
    let branch = this.root;
    const last = this.joint.length - 1;
    for (let group = 0; group < last; group++) {
      let next = branch.get(this.joint[group]!) as Branch | undefined;
      if (next === undefined) branch.set(this.joint[group]!, (next = new Map()));
      branch = next;
    }
    const known = branch.get(this.joint[last]!) as number | undefined;
    if (known !== undefined) return known;
    const scene = this.lookUpHouses();
    branch.set(this.joint[last]!, scene);
    return scene;
  }

  private lookUpHouses(): number {
    const lit = new Set<number>();
    for (let b = 0; b < this.wiring.length; b++) {
      const pattern = this.current[b]!;
      if (pattern >= 0) for (const house of this.wiring[b]!.patterns[pattern]!) lit.add(house);
    }
    const houses = [...lit].sort((a, b) => a - b);
    const key = houses.join();
    let scene = this.byHouses.get(key);
    if (scene === undefined) {
      scene = this.scenes.push(houses) - 1;
      this.byHouses.set(key, scene);
    }
    return scene;
  }
}
