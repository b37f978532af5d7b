import type { House } from "../model/scenario.js";
import type { Layout, Placing } from "./items.js";
import type { JointTimeline } from "./timeline.js";
import { toSeconds } from "../units/time.js";

/** What an arrangement is measured by; every part lower is better. */
export interface Parts {
  /** Standard deviation of the lit share of houses within their zone, all zones together. */
  readonly evenness: number;
  /** Difference between the most and the fewest houses lit at once, as a share of all houses. */
  readonly swing: number;
  /** Longest time for which a zone is wholly dark within one opening, seconds. */
  readonly dark: number;
  /**
   * How far neighbours change together: of the changes of a house or of the house nearest to it, the share in which one
   * step of a board changes both; mean over all houses that have a place.
   */
  readonly together: number;
  /** Sum of the straight distances from each board to every house it lights, in units of `at`; where both have a place. */
  readonly wire: number;
  /** Chance that two independent glances show the same scene. */
  readonly sameAtRandom: number;
}

export type PartName = keyof Parts;
export const PART_NAMES = ["evenness", "swing", "dark", "together", "wire", "sameAtRandom"] as const satisfies readonly PartName[];

/** What promises about single houses and zones are judged by while the search goes on. */
export interface Lights {
  readonly least: number;
  readonly most: number;
  /** Share of the time with at least one house of each zone lit, by name of the zone. */
  readonly zoneShare: ReadonlyMap<string, number>;
  /** Longest dark spell of any house, seconds; only where it was asked for, else 0. */
  readonly houseDark: number;
}

/**
 * Measures arrangements of one display by its joint positions, exactly, without simulating again. What an item gives is
 * remembered with the list of its places, and what a zone gives with those of its items: a change of two items costs little.
 */
export class Measure {
  private readonly zones: readonly Zone[];
  private readonly neighbours: readonly (readonly [number, number])[];
  /** Outputs on at each step of each board, as marks by output. */
  private readonly onAt: readonly (readonly Uint8Array[])[];
  private readonly distances: readonly (readonly number[])[];
  private readonly marks: readonly { readonly low: number; readonly high: number }[];
  private readonly itemOf: Int32Array;
  private readonly known = new WeakMap<readonly number[], ItemLight>();

  constructor(
    private readonly layout: Layout,
    private readonly timeline: JointTimeline,
    private readonly houseDarkAsked: boolean,
  ) {
    const { houses, boards } = layout.scenario;
    this.itemOf = new Int32Array(houses.length).fill(-1);
    layout.items.forEach(({ houses: members }, item) => members.forEach((house) => (this.itemOf[house] = item)));
    this.zones = zonesOf(houses, this.itemOf);
    this.neighbours = neighboursOf(houses);
    this.onAt = layout.sequences.map((seq) =>
      Array.from({ length: seq.outputs }, (_, output) => Uint8Array.from({ length: seq.steps }, (__, step) => (seq.on(step).includes(output) ? 1 : 0))),
    );
    this.distances = boards.map((board) => houses.map((house) => distance(board.at, house.at) ?? 0));
    this.marks = houses.map((_, house) => zobrist(house));
  }

  /** The largest that the parts can sensibly be, and the lowest that they could be at all. */
  get scales(): { readonly most: Parts; readonly least: Parts } {
    const { houses, boards } = this.layout.scenario;
    const ends = houses.map((_, house) => boards.map((__, b) => this.distances[b]![house]!));
    const farthest = ends.reduce((sum, own) => sum + Math.max(...own), 0);
    const nearest = ends.reduce((sum, own) => sum + Math.min(...own), 0);
    return {
      most: { evenness: 0.5, swing: 1, dark: 3600, together: 1, wire: farthest || 1, sameAtRandom: 1 },
      least: { evenness: 0, swing: 0, dark: 0, together: 0, wire: nearest, sameAtRandom: this.sumOfSquares },
    };
  }

  parts(placing: Placing): { parts: Parts; lights: Lights } {
    const lights = placing.map((places, item) => this.lightOf(places, item));
    const lit = Array.from(this.itemOf, (item) => (item < 0 ? NOT_LIT : lights[item]!.on));
    const joint = this.overPositions(lit);
    const zones = this.zones.map((zone) => this.zoneLight(zone, placing, lit));
    return {
      parts: {
        evenness: this.evenness(joint.share),
        swing: (joint.most - joint.least) / lit.length,
        dark: zones.reduce((most, { dark }) => Math.max(most, dark), 0),
        together: this.together(lit),
        wire: lights.reduce((sum, { wire }) => sum + wire, 0),
        sameAtRandom: joint.sameAtRandom,
      },
      lights: {
        least: joint.least,
        most: joint.most,
        zoneShare: new Map(this.zones.flatMap(({ name }, z) => (name === null ? [] : [[name, zones[z]!.share] as const]))),
        houseDark: this.houseDarkAsked ? this.longestHouseDark(lights) : 0,
      },
    };
  }

  /** What an item on these places gives. */
  private lightOf(places: readonly number[], item: number): ItemLight {
    const known = this.known.get(places);
    // two items may swap lists of places, so that a list is remembered for the item that has it
    if (known?.item === item) return known;
    const on: LitSteps[] = [];
    for (const place of places) {
      const { board, output } = this.layout.places[place]!;
      const marks = this.onAt[board]![output]!;
      let entry = on.find((one) => one.board === board);
      if (entry === undefined) on.push((entry = { board, on: new Uint8Array(marks.length) }));
      for (let step = 0; step < marks.length; step++) if (marks[step] === 1) entry.on[step] = 1;
    }
    const { houses } = this.layout.items[item]!;
    const wire = houses.reduce((sum, house) => on.reduce((all, { board }) => all + this.distances[board]![house]!, sum), 0);
    const dark = this.houseDarkAsked ? this.longestDark(this.positionsWith([on])) : 0;
    const light = { item, on, wire, dark };
    this.known.set(places, light);
    return light;
  }

  private zoneLight(zone: Zone, placing: Placing, lit: readonly (readonly LitSteps[])[]): ZoneLight {
    const { items, recent } = zone;
    const found = recent.find(({ places }) => items.every((item, i) => places[i] === placing[item]));
    if (found !== undefined) return found;
    const shown = this.positionsWith(zone.houses.map((house) => lit[house]!));
    const light = { places: items.map((item) => placing[item]!), dark: this.longestDark(shown), share: this.shareOf(shown) };
    recent.unshift(light);
    if (recent.length > REMEMBERED) recent.pop();
    return light;
  }

  private longestHouseDark(lights: readonly ItemLight[]): number {
    const unlit = this.itemOf.some((item) => item < 0) ? this.longestDark(new Uint8Array(this.timeline.share.length)) : 0;
    return lights.reduce((most, { dark }) => Math.max(most, dark), unlit);
  }

  /** Sums over joint positions: lit share of each house, least and most lit at once, chance of the same scene. */
  private overPositions(lit: readonly (readonly LitSteps[])[]): { share: Float64Array; least: number; most: number; sameAtRandom: number } {
    const { timeline } = this;
    const { boards, steps, share: jointShare } = timeline;
    const share = new Float64Array(lit.length);
    const count = timeline.stepShare.map(({ length }) => new Int32Array(length));
    const low = timeline.stepShare.map(({ length }) => new Int32Array(length));
    const high = timeline.stepShare.map(({ length }) => new Int32Array(length));
    const shared: number[] = [];
    lit.forEach((on, house) => {
      if (on.length > 1) shared.push(house);
      if (on.length !== 1) return;
      const { board, on: marks } = on[0]!;
      const mark = this.marks[house]!;
      const [n, l, h, stepShare] = [count[board]!, low[board]!, high[board]!, timeline.stepShare[board]!];
      for (let step = 0; step < marks.length; step++) {
        if (marks[step] === 0) continue;
        share[house]! += stepShare[step]!;
        n[step]!++;
        l[step]! ^= mark.low;
        h[step]! ^= mark.high;
      }
    });
    // where every step of every board has lights of its own, every joint position has a scene of its own
    const apart = shared.length === 0 && low.every((words, b) => allDiffer(words, high[b]!));
    const scenes = new Map<number, number>();
    let least = Infinity;
    let most = 0;
    for (let j = 0; j < jointShare.length; j++) {
      let lights = 0;
      let l = 0;
      let h = 0;
      for (let b = 0; b < boards; b++) {
        const step = steps[j * boards + b]!;
        if (step < 0) continue;
        lights += count[b]![step]!;
        l ^= low[b]![step]!;
        h ^= high[b]![step]!;
      }
      for (const house of shared) {
        if (!isLit(lit[house]!, steps, j * boards)) continue;
        lights++;
        share[house]! += jointShare[j]!;
        l ^= this.marks[house]!.low;
        h ^= this.marks[house]!.high;
      }
      if (lights < least) least = lights;
      if (lights > most) most = lights;
      if (apart) continue;
      const scene = sceneNumber(l, h);
      scenes.set(scene, (scenes.get(scene) ?? 0) + jointShare[j]!);
    }
    let sameAtRandom = apart ? this.sumOfSquares : 0;
    for (const p of scenes.values()) sameAtRandom += p * p;
    return { share, least, most, sameAtRandom };
  }

  private get sumOfSquares(): number {
    return this.timeline.share.reduce((sum, p) => sum + p * p, 0);
  }

  private evenness(share: Float64Array): number {
    let squares = 0;
    let houses = 0;
    for (const zone of this.zones) {
      const mean = zone.houses.reduce((sum, house) => sum + share[house]!, 0) / zone.houses.length;
      for (const house of zone.houses) squares += (share[house]! - mean) ** 2;
      houses += zone.houses.length;
    }
    return houses === 0 ? 0 : Math.sqrt(squares / houses);
  }

  /** Marks the joint positions at which at least one of these is lit. */
  private positionsWith(lit: readonly (readonly LitSteps[])[]): Uint8Array {
    const { boards, steps, share } = this.timeline;
    const any: (Uint8Array | undefined)[] = Array.from({ length: boards });
    for (const own of lit) {
      for (const { board, on } of own) {
        const marks = (any[board] ??= new Uint8Array(on.length));
        for (let step = 0; step < on.length; step++) if (on[step] === 1) marks[step] = 1;
      }
    }
    const shown = new Uint8Array(share.length);
    for (let b = 0; b < boards; b++) {
      const marks = any[b];
      if (marks === undefined) continue;
      for (let j = 0; j < shown.length; j++) {
        const step = steps[j * boards + b]!;
        if (step >= 0 && marks[step] === 1) shown[j] = 1;
      }
    }
    return shown;
  }

  private shareOf(shown: Uint8Array): number {
    let sum = 0;
    for (let j = 0; j < shown.length; j++) if (shown[j] === 1) sum += this.timeline.share[j]!;
    return sum;
  }

  /** Longest stretch within one opening at whose positions nothing is marked, seconds. */
  private longestDark(shown: Uint8Array): number {
    const { position, length, opens } = this.timeline;
    let longest = 0;
    let running = 0;
    for (let i = 0; i < position.length; i++) {
      const lit = shown[position[i]!] === 1;
      if (lit || opens[i] === 1) {
        if (running > longest) longest = running;
        running = 0;
      }
      if (!lit) running += length[i]!;
    }
    return toSeconds(Math.max(longest, running));
  }

  private together(lit: readonly (readonly LitSteps[])[]): number {
    if (this.neighbours.length === 0) return 0;
    let sum = 0;
    for (const [a, b] of this.neighbours) {
      let either = 0;
      let both = 0;
      for (const { board, from, to, count } of this.timeline.moves) {
        const first = changes(lit[a]!, board, from, to);
        const second = changes(lit[b]!, board, from, to);
        if (first || second) either += count;
        if (first && second) both += count;
      }
      if (either > 0) sum += both / either;
    }
    return sum / this.neighbours.length;
  }
}

/** States of a zone that are remembered: the present one, and those that moves were just taken back from. */
const REMEMBERED = 3;
const NOT_LIT: readonly LitSteps[] = [];

interface Zone {
  /** Null for the houses without a zone. */
  readonly name: string | null;
  readonly houses: readonly number[];
  readonly items: readonly number[];
  readonly recent: ZoneLight[];
}

interface ZoneLight {
  readonly places: Placing;
  readonly dark: number;
  readonly share: number;
}

interface ItemLight {
  readonly item: number;
  readonly on: readonly LitSteps[];
  readonly wire: number;
  /** Longest dark spell, seconds. */
  readonly dark: number;
}

interface LitSteps {
  readonly board: number;
  readonly on: Uint8Array;
}

function isLit(on: readonly LitSteps[], steps: Int32Array, at: number): boolean {
  return on.some(({ board, on: marks }) => {
    const step = steps[at + board]!;
    return step >= 0 && marks[step] === 1;
  });
}

function changes(on: readonly LitSteps[], board: number, from: number, to: number): boolean {
  for (const one of on) if (one.board === board && one.on[from] !== one.on[to]) return true;
  return false;
}

/** Houses by zone; those without one make a group of their own. */
function zonesOf(houses: readonly House[], itemOf: Int32Array): Zone[] {
  const names = [...new Set(houses.map(({ zone }) => zone))];
  return names.map((name) => {
    const members = houses.flatMap(({ zone }, house) => (zone === name ? [house] : []));
    const items = [...new Set(members.map((house) => itemOf[house]!))].filter((item) => item >= 0);
    return { name, houses: members, items, recent: [] };
  });
}

/** Every house with a place, and the one nearest to it; each pair once. */
function neighboursOf(houses: readonly House[]): [number, number][] {
  const pairs = new Map<string, [number, number]>();
  houses.forEach(({ at }, house) => {
    let nearest = -1;
    let least = Infinity;
    houses.forEach((other, h) => {
      const d = h === house ? null : distance(at, other.at);
      if (d !== null && d < least) [nearest, least] = [h, d];
    });
    if (nearest < 0) return;
    const pair: [number, number] = house < nearest ? [house, nearest] : [nearest, house];
    pairs.set(pair.join(), pair);
  });
  return [...pairs.values()];
}

/** Straight distance of two places; null where one has none. */
function distance(a: readonly [number, number] | null, b: readonly [number, number] | null): number | null {
  return a === null || b === null ? null : Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** 53 bits of two words: enough that two scenes hardly ever share a number. */
function sceneNumber(low: number, high: number): number {
  return (high & 0x1fffff) * 0x100000000 + (low >>> 0);
}

function allDiffer(low: Int32Array, high: Int32Array): boolean {
  const seen = new Set<number>();
  for (let i = 0; i < low.length; i++) seen.add(sceneNumber(low[i]!, high[i]!));
  return seen.size === low.length;
}

/** Two words that mark a house in the number of a scene (Zobrist hashing), spread by the finaliser of MurmurHash3. */
function zobrist(house: number): { low: number; high: number } {
  return { low: mixed(2 * house + 1), high: mixed(2 * house + 2) };
}

function mixed(n: number): number {
  let h = Math.imul(n, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}
