import { DRIVERS } from "../parts/drivers.js";
import { loadAmps } from "../parts/lamps.js";
import type { Layout, Placing } from "./items.js";

/** Counts what an arrangement does against the wishes, and against the rating of each output. */
export class Violations {
  private readonly itemOf: ReadonlyMap<number, number>;
  private readonly amps: readonly number[];
  private readonly limits: readonly number[];

  constructor(private readonly layout: Layout) {
    const { items, loads, places, scenario } = layout;
    this.itemOf = new Map(items.flatMap(({ houses }, item) => houses.map((house) => [house, item] as const)));
    this.amps = items.map(({ houses }) => houses.reduce((sum, house) => sum + loadAmps(scenario.lamps, [loads[house]!]), 0));
    this.limits = places.map(({ board }) => DRIVERS[scenario.boards[board]!.driver.kind].channelAmps.value);
  }

  /** 0 where all wishes are kept and no output carries more than its channel may; larger the more is amiss. */
  of(placing: Placing): number {
    const { layout, limits } = this;
    const { items, places, scenario } = layout;
    const { apart, perOutput } = scenario.wishes;
    const houses = new Int32Array(places.length);
    const amps = new Float64Array(places.length);
    let amiss = 0;
    placing.forEach((on, item) => {
      const { board, houses: members } = items[item]!;
      for (const place of on) {
        houses[place]! += members.length;
        amps[place]! += this.amps[item]!;
        if (board !== null && places[place]!.board !== board) amiss++;
      }
    });
    places.forEach((_, place) => {
      if (perOutput !== null && houses[place]! > perOutput) amiss += houses[place]! - perOutput;
      if (amps[place]! > limits[place]! * (1 + 1e-9)) amiss += amps[place]! / limits[place]!;
    });
    for (const group of apart) {
      for (const [n, a] of group.entries()) {
        for (const b of group.slice(n + 1)) amiss += common(this.placesOfHouse(placing, a), this.placesOfHouse(placing, b));
      }
    }
    return amiss;
  }

  private placesOfHouse(placing: Placing, house: number): readonly number[] {
    const item = this.itemOf.get(house);
    return item === undefined ? [] : placing[item]!;
  }
}

function common(a: readonly number[], b: readonly number[]): number {
  return a.filter((place) => b.includes(place)).length;
}
