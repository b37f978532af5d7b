import { CLEAR_STRETCH } from "./next.js";
import type { Turns } from "./light.js";
import type { Micros } from "../units/time.js";

/** For how long a house is dark, and lit, at a stretch at most; microseconds. */
export interface Stretches {
  readonly dark: number;
  readonly lit: number;
}

/** The longest stretches of a house that turns at these moments. */
export function longest(turns: Turns, length: Micros): Stretches {
  const ends = [...turns, length];
  const stretches = ends.map((end, i) => end - (ends[i - 1] ?? 0));
  const most = (odd: number): number => stretches.reduce((longer, stretch, i) => (i % 2 === odd ? Math.max(longer, stretch) : longer), 0);
  return { dark: most(0), lit: most(1) };
}

/** When a stretch that is long enough to be sure has passed in which a house is lit by one list of turns and dark by the other. */
export function firstApart(a: Turns, b: Turns, length: Micros): number {
  let [i, j] = [0, 0];
  while (i < a.length || j < b.length) {
    const at = Math.min(a[i] ?? Infinity, b[j] ?? Infinity);
    while (a[i] === at) i++;
    while (b[j] === at) j++;
    const next = Math.min(a[i] ?? length, b[j] ?? length);
    if (i % 2 !== j % 2 && next - at >= CLEAR_STRETCH) return at + CLEAR_STRETCH;
  }
  return Infinity;
}

/** Values for pairs of lists of turns, each worked out once. */
export class PairMap<Value> {
  private readonly known = new Map<Turns, Map<Turns, Value>>();

  get(a: Turns, b: Turns, work: () => Value): Value {
    const ofA = this.known.get(a) ?? new Map<Turns, Value>();
    this.known.set(a, ofA);
    const value = ofA.has(b) ? ofA.get(b)! : work();
    ofA.set(b, value);
    return value;
  }
}
