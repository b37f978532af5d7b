import { bisector } from "d3-array";
import { IDEAL_LARGEST_RESISTANCE, SMALLEST_RA, TIMER_CHIPS } from "../parts/chips.js";
import type { Figure } from "../parts/figure.js";
import type { CapacitorType } from "../parts/leakage.js";
import { DIVIDERS } from "../parts/preferred.js";
import { Surroundings, type PartSet } from "./corners.js";
import type { FullRequest } from "./request.js";
import type { Shelf, ShelfResistor } from "./shelf.js";

/** A set of parts that does not do, with how far it falls short: the logarithm of a ratio of times or resistances. */
export interface Miss {
  readonly parts: PartSet;
  readonly shortBy: number;
  /** What fails: the range, or RA + RB above what the chip allows. */
  readonly fails: "range" | "resistance";
}

export interface Found {
  readonly good: readonly PartSet[];
  /** The nearest miss of each make of which there is no good one, nearest first. */
  readonly misses: readonly Miss[];
  /** Largest ratio of slow to fast end that any set of these parts reaches for sure. */
  readonly widest: number;
}

/** Two resistors, with RA + 2·RB when both are at their upper limit. */
interface Pair {
  readonly ra: ShelfResistor;
  readonly rb: ShelfResistor;
  readonly slowest: number;
}

/** How much faster than asked the fast end should be: little gives a fine knob, much is safe from leakage. */
const SPARES = [1.001, 1.05, 1.15, 1.4];

/** Largest RA + RB, trimmer included, for the chip and supply of a request. */
export function largestResistance({ chip, supply }: Pick<FullRequest, "chip" | "supply">): Figure {
  return chip === "ideal" ? IDEAL_LARGEST_RESISTANCE : TIMER_CHIPS[chip].largestResistance(supply);
}

/** Parts that make a timer alike to build: which kind of capacitor, and whether there is a divider. */
export function make(type: CapacitorType, divide: number): string {
  return divide === 1 ? type : `${type}, divided`;
}

/** Tries capacitors, dividers and trimmers with the resistors that suit them, and keeps all sets that cover the range. */
export function search(request: FullRequest, shelf: Shelf): Found {
  const surroundings = new Surroundings(request);
  const pairs = resistorPairs(shelf.resistors, surroundings);
  const largest = largestResistance(request).value;
  const good: PartSet[] = [];
  const nearest = new Map<string, Miss>();
  let widest = 0;

  const consider = (parts: PartSet): void => {
    const miss = missOf(parts, request, surroundings, largest);
    if (miss === null) {
      good.push(parts);
      return;
    }
    const name = make(parts.c.type, parts.divide);
    const known = nearest.get(name);
    if (known === undefined || miss.shortBy < known.shortBy) nearest.set(name, miss);
  };

  for (const c of shelf.capacitors) {
    const slowC = surroundings.actual(c, 1) * surroundings.chipFactor(1) * Math.LN2;
    for (const divide of request.divider ? [1, ...DIVIDERS] : [1]) {
      const fits = request.range.from / (divide * slowC);
      for (const trimmer of shelf.trimmers) {
        for (const side of ["rb", "ra"] as const) {
          // the end of the track is in circuit at the fast end too, twice over beside rb
          const ofTrack = surroundings.end({ trimmer }) * (side === "rb" ? 2 : 1);
          const tried = new Set(SPARES.map((spare) => Math.max(0, below(pairs, fits / spare - ofTrack) - 1)));
          for (const index of tried) {
            const { ra, rb } = pairs[index]!;
            consider({ ra, rb, trimmer, in: side, c, divide });
          }
        }
      }
    }
  }
  for (const c of shelf.capacitors) {
    for (const trimmer of shelf.trimmers) {
      const { from, to } = surroundings.corners({ ...pairs[0]!, trimmer, in: "rb", c, divide: 1 });
      widest = Math.max(widest, to / from);
    }
  }
  const makes = new Set(good.map(({ c, divide }) => make(c.type, divide)));
  const misses = [...nearest].filter(([name]) => !makes.has(name)).map(([, miss]) => miss);
  return { good, misses: misses.sort((a, b) => a.shortBy - b.shortBy), widest };
}

/**
 * All pairs of resistors, RA at least what the chip needs and at most half as much again as RB, kind to the discharge pin, by
 * RA + 2·RB.
 */
function resistorPairs(resistors: readonly ShelfResistor[], surroundings: Surroundings): Pair[] {
  const usable = resistors.filter(({ value }) => value >= SMALLEST_RA.value);
  const all = usable.flatMap((rb) =>
    usable.map((ra) => ({ ra, rb, slowest: surroundings.actual(ra, 1) + 2 * surroundings.actual(rb, 1) })),
  );
  const usual = all.filter(({ ra, rb }) => ra.value <= 1.5 * rb.value && surroundings.sparesPin(ra, rb));
  return (usual.length > 0 ? usual : all).sort((a, b) => a.slowest - b.slowest);
}

/** Number of pairs whose slowest sum does not exceed a resistance. */
function below(pairs: readonly Pair[], ohms: number): number {
  return bisector((pair: Pair) => pair.slowest).right(pairs, ohms);
}

/** Null when the parts cover the range at every corner and suit the chip. */
function missOf(parts: PartSet, { range }: FullRequest, surroundings: Surroundings, largest: number): Miss | null {
  const { from, to } = surroundings.corners(parts);
  const shortBy = Math.max(Math.log(from / range.from), Math.log(range.to / to));
  if (shortBy > 0) return { parts, shortBy, fails: "range" };
  const ohms = parts.ra.value + parts.rb.value + parts.trimmer.value;
  if (ohms > largest) return { parts, shortBy: Math.log(ohms / largest), fails: "resistance" };
  return null;
}
