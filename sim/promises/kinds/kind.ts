import type { Measures } from "../../figures/measures.js";
import type { Promised, PromisedOf } from "../../model/scenario.js";
import type { Rating } from "../../ratings/index.js";
import type { BoardSteps } from "../../steptimes/index.js";
import type { Micros } from "../../units/time.js";

/** What a promise is measured in. A share is 0 … 1; ratings are shares of their limit. */
export type PromiseUnit = "s" | "houses" | "scenes" | "share";

/** How a promise came out: numbers alone, in the unit of the promise. */
export interface Outcome {
  readonly kept: boolean;
  /**
   * The worst that was found: what goes furthest beyond its limit or, where nothing does, comes nearest to it. Null
   * where there is nothing to look at, such as openings too short for the stay; such a promise is kept.
   */
  readonly value: number | null;
  readonly limit: number;
}

/** When and where a promise is broken: where it is worst, or first. */
export interface Break {
  /** Microseconds since the first Monday 00:00; null where no moment of the calendar matters. */
  readonly at: Micros | null;
  readonly what: string;
}

/** What is known of one build: what promises are judged on, and what is gathered over many builds. */
export interface Evidence {
  readonly steps: readonly BoardSteps[];
  /** Boards whose timer stalls: such a build is no display, and there is no use in simulating it. */
  readonly stalled: readonly string[];
  /** Whether some knob does not reach its setting and stays at the end of its track. */
  readonly outOfReach: boolean;
  /** Whether the ratings are known to hold in every build in which no timer stalls, so that this one need not be looked at. */
  readonly ratingsHold: boolean;
  /** What can be seen. The build is simulated when this is first looked at. */
  readonly measures: Measures;
  /** Its ratings at the moments of the record; a record without a trace is made again with one. */
  readonly ratings: readonly Rating[];
}

/** All that is known about one kind of promise, but for its keys in the file, which `scenario/promises.ts` has. */
export interface PromiseKind<Kind extends Promised["kind"]> {
  readonly unit: PromiseUnit;
  /** What it is judged on: step times alone, what is seen, or also which outputs are on together. */
  readonly needs: "steps" | "record" | "trace";
  /** In plain words: "every step after the first lasts 1 min to 4 min". */
  text(promised: PromisedOf<Kind>): string;
  /** The limit that is told where there is nothing to measure against it. */
  limit(promised: PromisedOf<Kind>): number;
  /** For a build in which no timer stalls. */
  judge(promised: PromisedOf<Kind>, evidence: Evidence): Outcome;
  /** When and where it is broken first; null where nothing breaks it, and for promises about the run as a whole. */
  firstBreak(promised: PromisedOf<Kind>, evidence: Evidence): Break | null;
}
