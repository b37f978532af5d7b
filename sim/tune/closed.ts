import { CURVE_STEP } from "../figures/repeat.js";
import type { Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";
import { alikeParts } from "./alike.js";
import type { Knob } from "./knobs.js";
import { toSeconds, type Seconds } from "../units/time.js";

/** Return times from here on are looked at. */
export const FIRST_RETURN = 60;
/** Up to here at least, seconds. */
const LEAST_LONGEST = 10_800;

/** Return times of the score: every 15 s from 1 min to the longest that the scenario names for one day, 3 h at least. */
export function returnTimes({ visitors, opening }: Scenario): number[] {
  const day = toSeconds(opening.until - opening.from);
  const sameDay = visitors.returns.map(toSeconds).filter((after) => after < day);
  const longest = Math.min(Math.max(LEAST_LONGEST, ...sameDay), Math.max(day, FIRST_RETURN));
  const step = toSeconds(CURVE_STEP);
  const times: number[] = [];
  for (let after = FIRST_RETURN; after <= longest; after += step) times.push(after);
  return times;
}

/** Reading errors over which a curve is averaged, evenly between the limits. */
const ERRORS = 9;

/**
 * The curve of returns in closed form: boards with clocks of their own are alike independently of each other, so that
 * the display shows the same scene for the product of what each part does, R(D) = Π Aₖ(D). For a ring of equal steps and
 * houses of its own A(D) = max(0, 1 − |D − nearest multiple of the cycle| / step). Exact over endless time; a run that
 * begins each day anew, and houses that two boards light, differ from it, so that what is found here is simulated.
 */
export class ClosedForm {
  private readonly parts;
  /** Product of the parts whose steps are not to be set. */
  private readonly fixed: Float64Array;
  private readonly stay: Seconds;
  /** Step times of the clocks that no knob sets. */
  readonly fixedSteps: readonly number[];

  constructor(
    scenario: Scenario,
    readonly knobs: readonly Knob[],
    readonly times: readonly number[],
  ) {
    const steps = boardTimes(scenario).map(({ stepSeconds }) => stepSeconds);
    const shortest = (board: number): number => {
      const knob = knobs.find((other) => other.board === board);
      return knob === undefined ? steps[board]! : Math.min(steps[board]!, knob.values[0]! - knob.reading);
    };
    this.parts = alikeParts(scenario, times.at(-1)! + 1, (board) => Math.max(1e-3, shortest(board)));
    this.fixed = new Float64Array(times.length).fill(1);
    this.stay = toSeconds(scenario.visitors.stay);
    this.fixedSteps = this.parts.flatMap(({ clock }) => (knobs.some(({ board }) => board === clock) ? [] : [steps[clock]!]));
    for (const { clock, alike } of this.parts) {
      if (knobs.some(({ board }) => board === clock)) continue;
      times.forEach((after, i) => (this.fixed[i] = this.fixed[i]! * alike(after, steps[clock]!)));
    }
  }

  /** How alike the part of one knob is to itself at every return time, mean over the error of the stopwatch where `blurred`. */
  partCurve(knob: Knob, step: number, blurred = true): Float64Array {
    const { alike } = this.parts.find(({ clock }) => clock === knob.board)!;
    const errors = !blurred || knob.reading === 0 ? [0] : Array.from({ length: ERRORS }, (_, i) => knob.reading * ((2 * i + 1) / ERRORS - 1));
    const { times } = this;
    const curve = new Float64Array(times.length);
    for (const error of errors) {
      const length = Math.max(1e-3, step + error);
      for (let i = 0; i < curve.length; i++) curve[i] = curve[i]! + alike(times[i]!, length);
    }
    for (let i = 0; i < curve.length; i++) curve[i] = curve[i]! / errors.length;
    return curve;
  }

  /** The whole curve for one step time of each knob. */
  curve(steps: readonly number[], blurred = true): Float64Array {
    const curve = this.fixed.slice();
    this.knobs.forEach((knob, k) => multiply(curve, this.partCurve(knob, steps[k]!, blurred)));
    return curve;
  }

  /** Mean over the return times. */
  score(steps: readonly number[], blurred = true): number {
    return meanOf(this.curve(steps, blurred));
  }

  /**
   * About what share of visitors see a scene come back during their stay, from a curve for these step times of the knobs.
   * Two spells of d and d' seconds with the same scene add d·d' to the integral of R over the time between them, so that
   * ∫ R(D) (stay − D) dD / d̄² pairs of them fall into a stay, d̄ = 1 / Σ(1/step) being the mean length of a spell; were they
   * strewn at random, 1 − exp(−pairs) of all visitors would meet one. No spell outlasts the shortest step, so that what comes
   * sooner is the same spell still. Our own estimate, to choose what is simulated.
   */
  stayRepeat(curve: Float64Array, steps: readonly number[]): number {
    const all = [...this.fixedSteps, ...steps];
    const shortest = Math.min(...all);
    const spells = all.reduce((sum, step) => sum + 1 / step, 0);
    const every = this.times.length > 1 ? this.times[1]! - this.times[0]! : 0;
    let pairs = 0;
    for (let i = 0; i < curve.length && this.times[i]! < this.stay; i++) {
      if (this.times[i]! >= shortest) pairs += curve[i]! * (this.stay - this.times[i]!) * every;
    }
    return 1 - Math.exp(-pairs * spells * spells);
  }

  /** The product of the parts that no knob sets. */
  get unset(): Float64Array {
    return this.fixed.slice();
  }
}

export function multiply(into: Float64Array, by: Float64Array): void {
  for (let i = 0; i < into.length; i++) into[i] = into[i]! * by[i]!;
}

export function meanOf(curve: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < curve.length; i++) sum += curve[i]!;
  return sum / curve.length;
}
