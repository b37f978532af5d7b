import type { House } from "../model/scenario.js";
import type { Layout, Placing } from "./items.js";
import { changingTogether, distance, neighboursOf, type Neighbours } from "./neighbours.js";
import { longestDark, markOf, overPositions, positionsWith, shareOf, type HouseMark, type LitSteps } from "./positions.js";
import type { JointTimeline } from "./timeline.js";
import { sameAtRandom } from "../figures/scenes.js";

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
  private readonly neighbours: readonly Neighbours[];
  /** Outputs on at each step of each board, as marks by output. */
  private readonly onAt: readonly (readonly Uint8Array[])[];
  private readonly distances: readonly (readonly number[])[];
  private readonly marks: readonly HouseMark[];
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
    this.marks = houses.map((_, house) => markOf(house));
    this.distances = boards.map((board) => houses.map((house) => distance(board.at, house.at) ?? 0));
  }

  /** The largest that the parts can sensibly be, and the lowest that they could be at all. */
  get scales(): { readonly most: Parts; readonly least: Parts } {
    const { houses, boards } = this.layout.scenario;
    const ends = houses.map((_, house) => boards.map((__, b) => this.distances[b]![house]!));
    const farthest = ends.reduce((sum, own) => sum + Math.max(...own), 0);
    const nearest = ends.reduce((sum, own) => sum + Math.min(...own), 0);
    return {
      most: { evenness: 0.5, swing: 1, dark: 3600, together: 1, wire: farthest || 1, sameAtRandom: 1 },
      least: { evenness: 0, swing: 0, dark: 0, together: 0, wire: nearest, sameAtRandom: sameAtRandom(this.timeline.share) },
    };
  }

  parts(placing: Placing): { parts: Parts; lights: Lights } {
    const lights = placing.map((places, item) => this.lightOf(places, item));
    const lit = Array.from(this.itemOf, (item) => (item < 0 ? NOT_LIT : lights[item]!.on));
    const joint = overPositions(this.timeline, lit, this.marks);
    const zones = this.zones.map((zone) => this.zoneLight(zone, placing, lit));
    return {
      parts: {
        evenness: this.evenness(joint.share),
        swing: (joint.most - joint.least) / lit.length,
        dark: zones.reduce((most, { dark }) => Math.max(most, dark), 0),
        together: changingTogether(this.timeline, this.neighbours, lit),
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
    const dark = this.houseDarkAsked ? longestDark(this.timeline, positionsWith(this.timeline, [on])) : 0;
    const light = { item, on, wire, dark };
    this.known.set(places, light);
    return light;
  }

  private zoneLight(zone: Zone, placing: Placing, lit: readonly (readonly LitSteps[])[]): ZoneLight {
    const { items, recent } = zone;
    const found = recent.find(({ places }) => items.every((item, i) => places[i] === placing[item]));
    if (found !== undefined) return found;
    const shown = positionsWith(this.timeline, zone.houses.map((house) => lit[house]!));
    const light = { places: items.map((item) => placing[item]!), dark: longestDark(this.timeline, shown), share: shareOf(this.timeline, shown) };
    recent.unshift(light);
    if (recent.length > REMEMBERED) recent.pop();
    return light;
  }

  private longestHouseDark(lights: readonly ItemLight[]): number {
    const unlit = this.itemOf.some((item) => item < 0) ? longestDark(this.timeline, new Uint8Array(this.timeline.share.length)) : 0;
    return lights.reduce((most, { dark }) => Math.max(most, dark), unlit);
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

/** Houses by zone; those without one make a group of their own. */
function zonesOf(houses: readonly House[], itemOf: Int32Array): Zone[] {
  const names = [...new Set(houses.map(({ zone }) => zone))];
  return names.map((name) => {
    const members = houses.flatMap(({ zone }, house) => (zone === name ? [house] : []));
    const items = [...new Set(members.map((house) => itemOf[house]!))].filter((item) => item >= 0);
    return { name, houses: members, items, recent: [] };
  });
}
