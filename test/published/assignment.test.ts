import { expect, test } from "vitest";
import { anneal, shuffled, type Landscape } from "../../sim/arrange/anneal.js";
import { below, stream, type Stream } from "../../sim/random/streams.js";

/**
 * Quadratic assignment, instance nug12 (C. E. Nugent, T. E. Vollmann, J. Ruml 1968; QAPLIB, R. E. Burkard, S. E. Karisch,
 * F. Rendl, Journal of Global Optimization 10 (1997) 391-403). Distances are those of a 3 × 4 grid, flows as below, from
 * memory; the published optimum is 578, with the permutation 12 7 9 3 4 8 11 1 5 6 10 2.
 */
const FLOW = [
  [0, 5, 2, 4, 1, 0, 0, 6, 2, 1, 1, 1],
  [5, 0, 3, 0, 2, 2, 2, 0, 4, 5, 0, 0],
  [2, 3, 0, 0, 0, 0, 0, 5, 5, 2, 2, 2],
  [4, 0, 0, 0, 5, 2, 2, 10, 0, 0, 5, 5],
  [1, 2, 0, 5, 0, 10, 0, 0, 0, 5, 1, 1],
  [0, 2, 0, 2, 10, 0, 5, 1, 1, 5, 4, 0],
  [0, 2, 0, 2, 0, 5, 0, 10, 5, 2, 3, 3],
  [6, 0, 5, 10, 0, 1, 10, 0, 0, 0, 5, 0],
  [2, 4, 5, 0, 0, 1, 5, 0, 0, 0, 10, 10],
  [1, 5, 2, 0, 5, 5, 2, 0, 0, 0, 5, 0],
  [1, 0, 2, 5, 1, 4, 3, 5, 10, 5, 0, 2],
  [1, 0, 2, 5, 1, 0, 3, 0, 10, 0, 2, 0],
];
const DISTANCE = FLOW.map((_, a) => FLOW.map((__, b) => Math.abs((a % 4) - (b % 4)) + Math.abs(Math.floor(a / 4) - Math.floor(b / 4))));
const PUBLISHED_OPTIMUM = 578;
const PUBLISHED_PERMUTATION = [12, 7, 9, 3, 4, 8, 11, 1, 5, 6, 10, 2].map((n) => n - 1);

/** Cost of putting facility order[i] on location i. */
function costOf(order: readonly number[]): number {
  return order.reduce((sum, a, i) => sum + order.reduce((row, b, j) => row + FLOW[a]![b]! * DISTANCE[i]![j]!, 0), 0);
}

class Assignment implements Landscape<readonly [number, number]> {
  least = Infinity;
  private order: number[];

  constructor(random: Stream) {
    this.order = shuffled(12, random);
  }

  cost(): number {
    return costOf(this.order);
  }

  propose(random: Stream): readonly [number, number] {
    const a = below(random, 12);
    return [a, (a + 1 + below(random, 11)) % 12];
  }

  make([a, b]: readonly [number, number]): void {
    [this.order[a], this.order[b]] = [this.order[b]!, this.order[a]!];
  }

  unmake(move: readonly [number, number]): void {
    this.make(move);
  }

  taken(cost: number): void {
    this.least = Math.min(this.least, cost);
  }

  restart(_: number, random: Stream): void {
    this.order = shuffled(12, random);
  }
}

test("the instance is the published one: its permutation costs what was published", () => {
  expect(costOf(PUBLISHED_PERMUTATION)).toBe(PUBLISHED_OPTIMUM);
});

test.each(["one", "two", "three"])("the search reaches the proven optimum of nug12, seed %s", (seed) => {
  const random = stream(seed, 0, "", "arrange");
  const assignment = new Assignment(random);
  const search = anneal(assignment, { tries: 250_000, descents: 25, random });
  while (search.next().done !== true);
  expect(assignment.least).toBe(PUBLISHED_OPTIMUM);
});
