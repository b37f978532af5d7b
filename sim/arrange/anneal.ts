import { quantile } from "d3-array";
import { below, type Stream } from "../random/streams.js";

/** Something to be arranged: states with a cost, and small changes that lead from one to the next. */
export interface Landscape<Move> {
  /** Cost of the present state; lower is better. */
  cost(): number;
  /** A small change that may be made now, drawn at random; null where this draw gives none. */
  propose(random: Stream): Move | null;
  make(move: Move): void;
  /** Takes back the move made last. */
  unmake(move: Move): void;
  /** Called when a state is taken, right after its cost was asked for: for whoever keeps the best. */
  taken(cost: number): void;
  /** Goes to a state from which a new descent begins; the first descent begins where the landscape stands. */
  restart(descent: number, random: Stream): void;
}

export interface AnnealOptions {
  /** Moves tried in all. */
  readonly tries: number;
  /** Descents they are shared among, at least 1. */
  readonly descents: number;
  readonly random: Stream;
}

/** Moves between two looks at the caller: often enough for a progress bar and for Ctrl-C. */
const SLICE = 200;
/** Moves sampled for the first temperature. */
const SAMPLED = 100;
/** The last temperature of a descent, as a share of its first. */
const COOLED = 1e-2;

/**
 * Simulated annealing with restarts: S. Kirkpatrick, C. D. Gelatt, M. P. Vecchi, Science 220 (1983) 671-680 (from memory).
 * Each descent cools geometrically from the small rises of a sample of moves. Yields how many moves were tried, so that the
 * caller may show it, or stop and keep the best so far.
 */
export function* anneal<Move>(landscape: Landscape<Move>, { tries, descents, random }: AnnealOptions): Generator<number> {
  let tried = 0;
  for (let descent = 0; descent < descents; descent++) {
    if (descent > 0) landscape.restart(descent, random);
    let cost = landscape.cost();
    landscape.taken(cost);
    const end = Math.round((tries * (descent + 1)) / descents);
    const moves = Math.max(1, end - tried);
    const hot = smallRise(landscape, cost, random);
    const cooling = COOLED ** (1 / moves);
    for (let temperature = hot; tried < end; temperature *= cooling) {
      tried++;
      if (tried % SLICE === 0) yield tried;
      const move = landscape.propose(random);
      if (move === null) continue;
      landscape.make(move);
      const next = landscape.cost();
      if (next <= cost || random.uniform() < Math.exp((cost - next) / temperature)) {
        cost = next;
        landscape.taken(cost);
      } else {
        landscape.unmake(move);
      }
    }
  }
  if (tried % SLICE !== 0) yield tried;
}

/** The rise that a quarter of the moves that raise the cost do not pass: a temperature at which small rises are often taken. */
function smallRise<Move>(landscape: Landscape<Move>, cost: number, random: Stream): number {
  const rises: number[] = [];
  for (let i = 0; i < SAMPLED; i++) {
    const move = landscape.propose(random);
    if (move === null) continue;
    landscape.make(move);
    const rise = landscape.cost() - cost;
    landscape.unmake(move);
    // moves against a wish or a promise cost thousands and say nothing about the rest
    if (rise > 0 && rise < LARGEST_RISE) rises.push(rise);
  }
  return quantile(rises, 0.25) ?? 1e-9;
}

/** Rises above this are penalties, not costs. */
const LARGEST_RISE = 1e3;

/** A permutation of 0 … n − 1, uniformly at random (Fisher and Yates). */
export function shuffled(n: number, random: Stream): number[] {
  const order = Array.from({ length: n }, (_, i) => i);
  for (let i = n - 1; i > 0; i--) {
    const j = below(random, i + 1);
    [order[i], order[j]] = [order[j]!, order[i]!];
  }
  return order;
}
