import { publishedLeakage, usualRatedVolts, warmLeakageFactor, type CapacitorType } from "../parts/leakage.js";
import { KNOB_TURN } from "../parts/preferred.js";
import { WITHIN } from "../ratings/rating.js";
import { SMALLEST_RA } from "../parts/chips.js";
import type { PartSet, Surroundings } from "./corners.js";
import type { ResistorType, ShelfPart, ShelfResistor } from "./shelf.js";
import type { ChipName, FullRequest, Range } from "./request.js";

/** Parts for one timer, and how comfortably they do. SI units; times in seconds of one step. */
export interface Choice {
  readonly ra: number;
  readonly rb: number;
  readonly trimmer: { readonly value: number; readonly in: "ra" | "rb" };
  readonly c: number;
  readonly chip: ChipName;
  /** Timer periods in one step. */
  readonly divide: number;
  /** What the knob reaches with nominal values. */
  readonly nominal: Range;
  /**
   * What it reaches at every corner of tolerance, temperature, chip and end of track: from the slowest fast end to the
   * fastest slow end, without leakage.
   */
  readonly corners: Range;
  /** The leakage of the capacitor, ampere, up to which the range is reached for sure and no knob position stalls. */
  readonly leakageBudget: number;
  readonly capacitor: {
    readonly type: CapacitorType;
    readonly minus: number;
    readonly plus: number;
    /** The limit that makers print, ampere, for a part of this rated voltage, at 20 °C. */
    readonly publishedLeakage: number;
    /** The same at the room's warmest. */
    readonly warmLeakage: number;
    readonly ratedVolts: number;
  };
  readonly tolerances: Readonly<Record<"ra" | "rb", Tolerated & { readonly type: ResistorType }>> & { readonly trimmer: Tolerated };
  /** What the end of the track leaves in circuit, at most, ohms. */
  readonly trackEnd: number;
  readonly knob: {
    /** Share of the travel between the wanted times. */
    readonly travel: number;
    /** What a degree of turning changes, seconds. */
    readonly secondsPerDegree: number;
  };
  /** How much shorter than asked the fast end is for sure, or how much longer the slow end, whichever is less: a share. */
  readonly spare: number;
  /** 0 … 1, the larger the more comfortable. */
  readonly score: number;
}

/** Limits of a part, as positive shares of its value. */
interface Tolerated {
  readonly minus: number;
  readonly plus: number;
}

function tolerated({ minus, plus }: ShelfPart): Tolerated {
  return { minus, plus };
}

function resistor(part: ShelfResistor): Tolerated & { readonly type: ResistorType } {
  return { ...tolerated(part), type: part.type };
}

/** A spare of this share is as good as any larger one. */
const PLENTY = 0.15;
/** A budget this many times below the published limit counts for nothing: settled parts leak about so much less. */
const SETTLED = 100;
const WEIGHTS = { spare: 0.3, leakage: 0.35, knob: 0.2, ease: 0.15 };

/** Works out and rates a set of parts. */
export function choiceOf(parts: PartSet, request: FullRequest, surroundings: Surroundings): Choice {
  const { range, wanted, supply, chip } = request;
  const nominal = surroundings.nominal(parts);
  const corners = surroundings.corners(parts);
  const leakageBudget = surroundings.leakageBudget(parts, range);
  const ratedVolts = usualRatedVolts(supply);
  const published = publishedLeakage(parts.c.type, parts.c.value, ratedVolts).amps;
  const warm = published * warmLeakageFactor(request.room.to);
  const spare = Math.min(range.from / corners.from, corners.to / range.to) - 1;
  const span = nominal.to - nominal.from;
  const comfort = {
    spare: bounded(spare / PLENTY),
    leakage: bounded(1 + Math.log(leakageBudget / warm) / Math.log(SETTLED)),
    // a knob that reached just the range asked for would be the finest there is
    knob: bounded((range.to - range.from) / span),
    ease: easeOf(parts),
  };
  return {
    ra: parts.ra.value,
    rb: parts.rb.value,
    trimmer: { value: parts.trimmer.value, in: parts.in },
    c: parts.c.value,
    chip,
    divide: parts.divide,
    nominal,
    corners,
    leakageBudget,
    capacitor: { type: parts.c.type, minus: parts.c.minus, plus: parts.c.plus, publishedLeakage: published, warmLeakage: warm, ratedVolts },
    tolerances: { ra: resistor(parts.ra), rb: resistor(parts.rb), trimmer: tolerated(parts.trimmer) },
    trackEnd: surroundings.end(parts),
    knob: { travel: bounded((wanted.to - wanted.from) / span), secondsPerDegree: span / KNOB_TURN.electrical.value },
    spare,
    score:
      WEIGHTS.spare * comfort.spare +
      WEIGHTS.leakage * comfort.leakage +
      WEIGHTS.knob * comfort.knob +
      WEIGHTS.ease * comfort.ease,
  };
}

/** What a bench finds easy to get and to build (common practice, no source): a factor for each thing against it. */
function easeOf({ ra, trimmer, c, divide }: PartSet): number {
  const against = [
    { here: divide > 1, factor: 0.7 }, // one more chip to solder
    { here: SMALLEST_RA.value / ra.value > WITHIN, factor: 0.5 }, // at the edge of what the chip discharges
    { here: trimmer.value > 1e6, factor: 0.7 }, // rare, and sensitive to dust
    { here: c.type !== "film" && c.value < 10e-6, factor: 0.5 }, // film is as cheap and does not leak
  ];
  return against.reduce((ease, { here, factor }) => (here ? ease * factor : ease), 1);
}

/** Into 0 … 1; −Infinity, where there is no budget at all, becomes 0. */
function bounded(share: number): number {
  return Math.min(1, Math.max(0, share));
}
