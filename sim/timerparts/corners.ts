import { bisected } from "../statistics/bisection.js";
import { TIMER_CHIPS } from "../parts/chips.js";
import { endResistance } from "../parts/preferred.js";
import { highTime, lowTime } from "../timers/astable.js";
import { WITHIN } from "../ratings/rating.js";
import { errorAt } from "../timers/build.js";
import type { FullRequest, Range } from "./request.js";
import type { ShelfCapacitor, ShelfPart, ShelfResistor, ShelfTrimmer } from "./shelf.js";

/** A set of parts for one timer. */
export interface PartSet {
  readonly ra: ShelfResistor;
  readonly rb: ShelfResistor;
  readonly trimmer: ShelfTrimmer;
  readonly in: "ra" | "rb";
  readonly c: ShelfCapacitor;
  readonly divide: number;
}

/** A low time lengthened by less than this is not told from one that is not. */
const SATURATION_MATTERS = 1.01;

/** −1: every part at its lower limit and the step time with it; 0: nominal; 1: at its upper limit. */
export type Side = -1 | 0 | 1;

/** What a timer meets besides its parts: chip, supply and room, with everything that depends on them worked out. */
export class Surroundings {
  readonly volts: number;
  /** Kelvins from the 25 °C at which values count, at most. */
  private readonly warmth: number;
  private readonly error: { readonly minus: number; readonly plus: number };
  private readonly chipTempco: number;
  private readonly threshold: number;
  private readonly thresholdLimit: number;
  /** Ohms of the closed discharge pin, at most. */
  private readonly pinOhms: number;
  /** Ampere that it may take. */
  private readonly pinAmps: number;

  constructor({ supply, chip, room }: Pick<FullRequest, "supply" | "chip" | "room">) {
    this.volts = supply;
    this.warmth = Math.max(Math.abs(room.from - 25), Math.abs(room.to - 25));
    const known = chip === "ideal" ? null : TIMER_CHIPS[chip];
    this.error = known?.error ?? { minus: 0, plus: 0 };
    this.chipTempco = known?.tempco ?? 0;
    this.threshold = known?.threshold ?? 0;
    this.thresholdLimit = known?.thresholdLimit.value ?? 0;
    this.pinAmps = known?.discharge.most ?? Infinity;
    this.pinOhms = known === null ? 0 : known.discharge.volts / known.discharge.most;
  }

  /** The value of a part at a limit of its tolerance, and of its temperature on the same side. */
  actual({ value, minus, plus, warmth }: ShelfPart, side: Side): number {
    if (side === 0) return value;
    return value * (side < 0 ? 1 - minus : 1 + plus) * (1 + side * warmth * this.warmth);
  }

  /** Factor that the chip puts on all times. */
  chipFactor(side: Side): number {
    return (1 + errorAt(this.error, side)) * (1 + side * this.chipTempco * this.warmth);
  }

  /** Current into the threshold pin: it lengthens a step, so that none counts for the shortest. */
  thresholdAmps(side: Side): number {
    return side < 0 ? 0 : side > 0 ? this.thresholdLimit : this.threshold;
  }

  /**
   * Seconds of a step with the knob at one end of its travel (0: as little of the track as the end leaves, 1: all of it)
   * and a capacitor that leaks `leak` ampere. The step time rises with every part, so that all parts at one limit give
   * its limit. What the end of the track leaves, and what the discharge pin loses, lengthen a step: both count at the
   * upper limit alone.
   */
  step(parts: PartSet, side: Side, knob: 0 | 1, leak: number): number {
    const { r1, r2 } = this.resistances(parts, side, knob);
    const c = this.actual(parts.c, side);
    const amps = leak + this.thresholdAmps(side);
    const low = lowTime(this.volts, r2, c, amps);
    const period = highTime(this.volts, r1, c, amps) + (side > 0 ? Math.max(low, this.saturatedLow(r1 - r2, r2, c, amps)) : low);
    return parts.divide * period * this.chipFactor(side);
  }

  /**
   * The low time with the discharge pin above ground by what Ra's current loses in it, as V·pin/Ra; nothing where that
   * lengthens it by less than a hundredth.
   */
  private saturatedLow(ra: number, r2: number, c: number, amps: number): number {
    const lost = (this.volts * this.pinOhms) / ra;
    const aim = lost - amps * r2;
    if (aim >= this.volts / 3) return Infinity;
    const seconds = (r2 + this.pinOhms) * c * Math.log(((2 * this.volts) / 3 - aim) / (this.volts / 3 - aim));
    return seconds < SATURATION_MATTERS * lowTime(this.volts, r2, c, amps) ? 0 : seconds;
  }

  /** What the knob reaches with nominal values. */
  nominal(parts: PartSet): Range {
    return { from: this.step(parts, 0, 0, 0), to: this.step(parts, 0, 1, 0) };
  }

  /** Whether the discharge pin takes no more than four fifths of its limit, with the knob turned all the way down. */
  sparesPin(ra: ShelfPart, rb: ShelfPart): boolean {
    const amps = (2 * this.volts) / 3 / (rb.value * (1 - rb.minus)) + this.volts / (ra.value * (1 - ra.minus));
    return amps <= WITHIN * this.pinAmps;
  }

  /** What is left of the track with the knob at its end, at most, ohms. */
  end({ trimmer }: Pick<PartSet, "trimmer">): number {
    return trimmer.end ?? endResistance(this.actual(trimmer, 1));
  }

  /** What the knob reaches for sure: from its slowest fast end to its fastest slow end. */
  corners(parts: PartSet): Range {
    return { from: this.step(parts, 1, 0, 0), to: this.step(parts, -1, 1, 0) };
  }

  /**
   * The leakage, ampere, up to which the range is still reached for sure and the timer stalls nowhere on the knob. Leakage
   * makes every step longer: it spoils the fast end, and stalls the slow one.
   */
  leakageBudget(parts: PartSet, range: Range): number {
    const { r1 } = this.resistances(parts, 1, 1);
    const stall = this.volts / 3 / r1 - this.thresholdAmps(1);
    const fastEnd = (leak: number): number => this.step(parts, 1, 0, leak);
    if (stall <= 0 || fastEnd(0) > range.from) return 0;
    if (fastEnd(stall) <= range.from) return stall;
    return bisected((leak) => fastEnd(leak) <= range.from, 0, stall).last;
  }

  private resistances(parts: PartSet, side: Side, knob: 0 | 1): { r1: number; r2: number } {
    const track = knob === 1 ? this.actual(parts.trimmer, side) : side > 0 ? this.end(parts) : 0;
    const ra = this.actual(parts.ra, side) + (parts.in === "ra" ? track : 0);
    const rb = this.actual(parts.rb, side) + (parts.in === "rb" ? track : 0);
    return { r1: ra + rb, r2: rb };
  }
}
