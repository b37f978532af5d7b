import type { Room } from "../model/scenario.js";
import { truncatedNormal } from "../random/normal.js";
import type { Stream } from "../random/streams.js";
import { times, type Clockwork } from "../timers/clockwork.js";
import { temperature } from "../timers/room.js";
import { DOUBT, WarmCurve } from "../timers/warmcurve.js";
import { HOUR, type Micros, SECOND, type Seconds } from "../units/time.js";

/** A normal deviate beyond this many standard deviations is redrawn. */
const JITTER_LIMIT = 4;

/** How a counter goes on: its steps once round, and the factors on their times; null where all are 1. */
export interface Rhythm {
  readonly steps: number;
  readonly holds: Float64Array | null;
}

/** The lengths of a board's steps in integer microseconds, with temperature, drift and jitter as they come. */
export class StepClock {
  private readonly steady: number;
  private readonly first: number;
  private readonly warm: boolean;
  /** The period over the day; null where only the formula is near enough. */
  private readonly curve: WarmCurve | null;
  private readonly jitter: number;
  private readonly drift: number;
  private readonly divide: number;
  /** True: no two equal steps differ, so that a step is one multiplication. */
  private readonly constant: boolean;
  private readonly steadyMicros: number;
  private poweredBefore = 0;
  private onSince = 0;

  constructor(
    private readonly clockwork: Clockwork,
    private readonly room: Room,
    private readonly jitterStream: Stream,
  ) {
    this.steady = clockwork.period(room.mean);
    this.first = clockwork.firstPeriod(room.mean);
    this.warm = clockwork.warmthMatters && room.swing !== 0;
    this.curve = this.warm ? WarmCurve.of(clockwork, room) : null;
    this.jitter = clockwork.jitter;
    this.drift = clockwork.drift;
    this.divide = clockwork.divide;
    this.steadyMicros = micros(this.steady);
    this.constant = !this.warm && this.jitter === 0 && this.drift === 0;
  }

  switchOn(t: Micros): void {
    this.onSince = t;
  }

  switchOff(t: Micros): void {
    this.poweredBefore += t - this.onSince;
  }

  /**
   * Length of the step that starts at t; `hold` multiplies it, `fresh` marks the first after switch-on. Infinity where
   * the timer stalls.
   */
  step(t: Micros, hold: number, fresh: boolean): number {
    if (this.constant) {
      const each = hold === 1 ? this.steadyMicros : micros(this.steady * hold);
      if (!fresh) return this.divide * each;
      return micros(this.first * hold) + times(this.divide - 1, each);
    }
    let length = 0;
    for (let i = 0; i < this.divide; i++) length += this.period(t + length, hold, fresh && i === 0);
    return length;
  }

  /**
   * Writes down the ends of the steps to come, from place `from` of a list up to place `to` or the first that is not before
   * `off`, and returns the place behind the last; at t the counter has come to `step`, and `fresh` marks switch-on. The same as
   * step after step.
   */
  ahead(ends: Float64Array, from: number, to: number, t: Micros, off: Micros, { steps, holds }: Rhythm, step: number, fresh: boolean): number {
    let end = t;
    let at = step;
    let place = from;
    const even = holds === null && this.divide === 1 && !this.constant;
    while (place < to && end < off) {
      end += this.step(end, holds === null ? 1 : holds[at]!, fresh && place === from);
      ends[place++] = end;
      if (++at === steps) at = 0;
      while (even && place < to && end < off) {
        end += this.period(end, 1, false);
        ends[place++] = end;
      }
    }
    return place;
  }

  private period(t: Micros, hold: number, fresh: boolean): number {
    const growth = this.drift === 0 ? 1 : 1 + (this.drift * (this.poweredBefore + t - this.onSince)) / HOUR;
    const wobble = this.jitter === 0 ? 1 : 1 + this.jitter * truncatedNormal(this.jitterStream, JITTER_LIMIT);
    if (this.curve !== null && !fresh) {
      const whole = this.read(this.curve, t, growth * wobble * hold);
      if (whole > 0) return whole;
    }
    return micros((this.warm ? this.warmPeriod(t, fresh) : fresh ? this.first : this.steady) * growth * wobble * hold);
  }

  /** Whole microseconds, by the curve, of a period that starts at t and is longer by a factor; 0 where rounding is in doubt. */
  private read(curve: WarmCurve, t: Micros, factor: number): number {
    const near = curve.period(t) * factor + 0.5;
    const whole = Math.floor(near);
    // further from the next half microsecond than the curve may be off, the formula rounds to the same
    const doubt = DOUBT * factor;
    return near - whole > doubt && near - whole < 1 - doubt && whole >= 1 ? whole : 0;
  }

  private warmPeriod(t: Micros, fresh: boolean): Seconds {
    const theta = temperature(this.room, t);
    return fresh ? this.clockwork.firstPeriod(theta) : this.clockwork.period(theta);
  }
}

/** Seconds as whole microseconds; never 0, so that time goes on. */
function micros(seconds: Seconds): number {
  // floor of a half more rounds as Math.round does and is much faster
  const rounded = Math.floor(seconds * SECOND + 0.5);
  return rounded < 1 ? 1 : rounded;
}
