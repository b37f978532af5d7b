import { below, type Stream } from "../random/streams.js";
import { shuffled, type Landscape } from "./anneal.js";
import type { Layout, Placing } from "./items.js";
import type { Measure, Parts } from "./parts.js";
import { brokenBy } from "./promised.js";
import { againstToday, scoreOf, type Scales, type Weights } from "./score.js";
import type { Violations } from "./wishes.js";

/** A change of an arrangement: where some items will be, and where they were. */
export interface Move {
  readonly items: readonly number[];
  readonly to: readonly (readonly number[])[];
  readonly from: readonly (readonly number[])[];
}

/** A wish not kept, or an output over its rating, weighs more than any promise; a promise more than any score. */
const WISH = 1e8;
const PROMISE = 1e5;

/** An arrangement met by the search. */
interface RankedPlacing {
  /** See {@link Arrangements.rankOf}. */
  readonly rank: number;
  readonly placing: Placing;
}

/** All arrangements of a display, as annealing walks through them; keeps the best that it meets. */
export class Arrangements implements Landscape<Move> {
  /** Best first, no two alike. */
  readonly best: RankedPlacing[] = [];
  private readonly placing: (readonly number[])[];
  private readonly movable: readonly number[];
  /** Rank of the arrangement whose cost was asked for last. */
  private rank = Infinity;
  private readonly scales: Scales;

  constructor(
    private readonly layout: Layout,
    private readonly measure: Measure,
    private readonly violations: Violations,
    private readonly weights: Weights,
    /** Parts of today's arrangement, than which none should get worse. */
    private readonly today: Parts,
    private readonly kept: number,
  ) {
    this.placing = [...layout.start];
    this.movable = layout.items.flatMap(({ fixed }, item) => (fixed ? [] : [item]));
    this.scales = measure.scales;
  }

  cost(): number {
    const { cost, rank } = this.judge(this.placing);
    this.rank = rank;
    return cost;
  }

  /** Where an arrangement stands in the order of all: by wishes and ratings, promises, parts worse than today, score. */
  rankOf(placing: Placing): number {
    return this.judge(placing).rank;
  }

  private judge(placing: Placing): { cost: number; rank: number } {
    const { parts, lights } = this.measure.parts(placing);
    const amiss = WISH * this.violations.of(placing) + PROMISE * brokenBy(this.layout.scenario.promises, lights, parts);
    const score = scoreOf(parts, this.scales, this.weights);
    const { rank, slope } = againstToday(parts, this.today, this.scales, this.weights);
    return { cost: amiss + score + slope, rank: amiss + score + rank };
  }

  make({ items, to }: Move): void {
    this.put(items, to);
  }

  unmake({ items, from }: Move): void {
    this.put(items, from);
  }

  taken(): void {
    const { best, kept, rank } = this;
    if (best.length >= kept && rank >= best.at(-1)!.rank) return;
    if (best.some((one) => one.rank === rank && sameAs(one.placing, this.placing))) return;
    const at = best.findIndex((one) => one.rank > rank);
    best.splice(at < 0 ? best.length : at, 0, { rank, placing: this.placing.map((places) => [...places]) });
    if (best.length > kept) best.pop();
  }

  /** Every other descent begins from the best so far, the others from a shuffle of it. */
  restart(descent: number, random: Stream): void {
    const { placing } = this.best[0]!;
    this.put(placing.map((_, item) => item), placing);
    if (descent % 2 === 0) return;
    for (let i = 0; i < 4 * this.movable.length; i++) {
      const move = this.propose(random);
      if (move !== null) this.make(move);
    }
  }

  propose(random: Stream): Move | null {
    if (this.movable.length === 0) return null;
    const item = this.movable[below(random, this.movable.length)]!;
    switch (below(random, 5)) {
      case 0:
        return this.resettle(item, random);
      case 1:
        return this.shift(item, random);
      case 2:
        return this.swap(item, this.otherOf(item, random), random);
      case 3:
        return this.exchange(item, this.otherOf(item, random));
      default:
        return this.handOver(item, this.otherOf(item, random), random);
    }
  }

  private otherOf(item: number, random: Stream): number {
    const other = this.movable[below(random, this.movable.length)]!;
    return other === item ? this.movable[(this.movable.indexOf(item) + 1) % this.movable.length]! : other;
  }

  /** One connection of an item goes to another output. */
  private shift(item: number, random: Stream): Move | null {
    const places = this.placing[item]!;
    const k = below(random, places.length);
    const board = this.layout.places[places[k]!]!.board;
    const anywhere = this.layout.items[item]!.spanning || places.length === 1;
    const pool = anywhere ? this.layout.places.length : this.layout.placesOf[board]!.length;
    const chosen = below(random, pool);
    const to = anywhere ? chosen : this.layout.placesOf[board]![chosen]!;
    return this.moved([item], [replaced(places, k, to)]);
  }

  /** All connections of an item go to outputs of another board. */
  private resettle(item: number, random: Stream): Move | null {
    const { places, placesOf, items } = this.layout;
    const now = this.placing[item]!;
    const board = below(random, placesOf.length);
    const pool = placesOf[board]!;
    if (board === places[now[0]!]!.board || pool.length === 0) return null;
    if (pool.length < now.length && !items[item]!.together) return null;
    const to = shuffled(pool.length, random).slice(0, now.length).map((k) => pool[k]!);
    return this.moved([item], [to]);
  }

  /** One connection of each of two items changes places. */
  private swap(a: number, b: number, random: Stream): Move | null {
    const [pa, pb] = [this.placing[a]!, this.placing[b]!];
    const [i, j] = [below(random, pa.length), below(random, pb.length)];
    return this.moved([a, b], [replaced(pa, i, pb[j]!), replaced(pb, j, pa[i]!)]);
  }

  /** Two items change all their places. */
  private exchange(a: number, b: number): Move | null {
    const [pa, pb] = [this.placing[a]!, this.placing[b]!];
    const { items } = this.layout;
    if (pa.length !== pb.length && !(items[a]!.together && items[b]!.together)) return null;
    return this.moved([a, b], [pb, pa]);
  }

  /** One output of an item lights another item of its board instead. */
  private handOver(a: number, b: number, random: Stream): Move | null {
    const { items } = this.layout;
    const [pa, pb] = [this.placing[a]!, this.placing[b]!];
    if (pa.length < 2 || !items[a]!.together || !items[b]!.together) return null;
    const k = below(random, pa.length);
    return this.moved([a, b], [pa.filter((_, i) => i !== k), [...pb, pa[k]!]]);
  }

  /** A move, where it leaves each item once on an output, and on one board, if it must be. */
  private moved(items: readonly number[], to: readonly (readonly number[])[]): Move | null {
    const from = items.map((item) => this.placing[item]!);
    if (items[0] === items[1]) return null;
    for (let n = 0; n < items.length; n++) if (!this.fits(items[n]!, to[n]!)) return null;
    return { items, to, from };
  }

  private fits(item: number, places: readonly number[]): boolean {
    const { spanning, board } = this.layout.items[item]!;
    if (new Set(places).size !== places.length) return false;
    const first = this.layout.places[places[0]!]!.board;
    return places.every((place) => {
      const on = this.layout.places[place]!.board;
      return (spanning || on === first) && (board === null || on === board || this.strays(item));
    });
  }

  /** Whether an item stands on a board it should not be on, and so must be let go anywhere. */
  private strays(item: number): boolean {
    const { board } = this.layout.items[item]!;
    return this.placing[item]!.some((place) => this.layout.places[place]!.board !== board);
  }

  private put(items: readonly number[], to: readonly (readonly number[])[]): void {
    items.forEach((item, n) => (this.placing[item] = to[n]!));
  }
}

function replaced(places: readonly number[], at: number, place: number): number[] {
  return places.map((one, i) => (i === at ? place : one));
}

function sameAs(a: Placing, b: Placing): boolean {
  return a.every((places, item) => places.length === b[item]!.length && places.every((place) => b[item]!.includes(place)));
}
