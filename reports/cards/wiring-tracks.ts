/** A wire that comes in from the left at one height and goes out to the right at another. */
export interface Crossover {
  readonly from: number;
  readonly to: number;
}

/**
 * The order from left to right of the upright stretches of wires side by side with which they cross least often; ties
 * go to the wire that comes first. By dynamic programming over the sets of wires placed so far: for a dozen at most.
 */
export function leastCrossings(wires: readonly Crossover[]): number[] {
  const n = wires.length;
  const cost = wires.map((one) => wires.map((other) => (one === other ? 0 : crossings(one, other))));
  const best = new Float64Array(1 << n).fill(Infinity);
  const last = new Int8Array(1 << n);
  best[0] = 0;
  for (let set = 0; set < 1 << n; set++) {
    for (let next = 0; next < n; next++) {
      if (set & (1 << next)) continue;
      let sum = best[set]!;
      for (let i = 0; i < n; i++) if (set & (1 << i)) sum += cost[i]![next]!;
      const grown = set | (1 << next);
      if (sum >= best[grown]!) continue;
      best[grown] = sum;
      last[grown] = next;
    }
  }
  const order: number[] = [];
  for (let set = (1 << n) - 1; set > 0; set ^= 1 << last[set]!) order.unshift(last[set]!);
  return order;
}

/** How often two wires cross when the first has its upright stretch further left. */
function crossings(left: Crossover, right: Crossover): number {
  return Number(inside(right.from, left)) + Number(inside(left.to, right));
}

function inside(height: number, { from, to }: Crossover): boolean {
  return height > Math.min(from, to) && height < Math.max(from, to);
}
