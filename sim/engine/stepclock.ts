import type { Room } from "../model/scenario.js";
import { truncatedNormals } from "../random/normal.js";
import type { BlockStream } from "../random/streams.js";
import { times, type Clockwork } from "../timers/clockwork.js";
import { temperature } from "../timers/room.js";
import { DOUBT, WarmCurve } from "../timers/warmcurve.js";
import { HOUR, type Micros, SECOND, type Seconds } from "../units/time.js";

/** A normal deviate beyond this many standard deviations is redrawn. */
const JITTER_LIMIT = 4;

/** How many deviates are drawn at a time. */
const DRAWN = 64;

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
  /** True: a step is one period, and the hours that have passed do not matter. */
  private readonly even: boolean;
  /** Deviates of jitter, and the place of the next; all 0 where there is none. */
  private readonly deviates = new Float64Array(DRAWN);
  private drawn = DRAWN;
  private poweredBefore = 0;
  private onSince = 0;

  constructor(
    private readonly clockwork: Clockwork,
    private readonly room: Room,
    private readonly jitterStream: BlockStream,
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
    this.even = this.drift === 0 && this.divide === 1;
  }

  /** About how long a step is. */
  get mean(): Micros {
    return this.divide * this.steadyMicros;
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
   * `until`, and returns the place behind the last; at t the counter has come to `step`. The same as step after step.
   */
  ahead(ends: Float64Array, from: number, to: number, t: Micros, until: Micros, { steps, holds }: Rhythm, step: number): number {
    if (this.even && holds === null) return this.evenlyAhead(ends, from, to, t, until);
    const single = this.divide === 1 && !this.constant;
    let end = t;
    let at = step;
    let place = from;
    while (place < to && end < until) {
      const hold = holds === null ? 1 : holds[at]!;
      end += single ? this.period(end, hold, false) : this.step(end, hold, false);
      ends[place++] = end;
      if (++at === steps) at = 0;
    }
    return place;
  }

  /** The same where each step is one period, whatever came before. */
  private evenlyAhead(ends: Float64Array, from: number, to: number, t: Micros, until: Micros): number {
    const { warm, steady, jitter, deviates } = this;
    let { drawn } = this;
    let end = t;
    let place = from;
    while (place < to && end < until) {
      if (drawn === DRAWN) drawn = this.draw();
      for (const stop = Math.min(to, place + DRAWN - drawn); place < stop && end < until; ) {
        const wobble = 1 + jitter * deviates[drawn++]!;
        end += warm ? this.warmPeriod(end, 1, wobble, 1) : micros(stretched(steady, 1, wobble, 1));
        ends[place++] = end;
      }
    }
    this.drawn = drawn;
    return place;
  }

  /** Draws deviates ahead; returns the place of the first. */
  private draw(): number {
    if (this.jitter !== 0) truncatedNormals(this.jitterStream, JITTER_LIMIT, this.deviates);
    return 0;
  }

  private period(t: Micros, hold: number, fresh: boolean): number {
    const growth = this.drift === 0 ? 1 : 1 + (this.drift * (this.poweredBefore + t - this.onSince)) / HOUR;
    if (this.drawn === DRAWN) this.drawn = this.draw();
    const wobble = 1 + this.jitter * this.deviates[this.drawn++]!;
    if (this.warm && !fresh) return this.warmPeriod(t, growth, wobble, hold);
    const plain = !fresh ? this.steady : this.warm ? this.clockwork.firstPeriod(temperature(this.room, t)) : this.first;
    return micros(stretched(plain, growth, wobble, hold));
  }

  private warmPeriod(t: Micros, growth: number, wobble: number, hold: number): number {
    if (this.curve !== null) {
      const whole = this.read(this.curve, t, growth * wobble * hold);
      if (whole > 0) return whole;
    }
    return micros(stretched(this.clockwork.period(temperature(this.room, t)), growth, wobble, hold));
  }

  /** Whole microseconds, by the curve, of a period that starts at t and is longer by a factor; 0 where rounding is in doubt. */
  private read(curve: WarmCurve, t: Micros, factor: number): number {
    const near = curve.period(t) * factor + 0.5;
    const whole = Math.floor(near);
    // further from the next half microsecond than the curve may be off, the formula rounds to the same
    const doubt = DOUBT * factor;
    return near - whole > doubt && near - whole < 1 - doubt && whole >= 1 ? whole : 0;
  }
}

/** What becomes of a period by drift, jitter and the hold of its step. */
function stretched(period: Seconds, growth: number, wobble: number, hold: number): Seconds {
  return period * growth * wobble * hold;
}

/** Seconds as whole microseconds; never 0, so that time goes on. */
function micros(seconds: Seconds): number {
  // floor of a half more rounds as Math.round does and is much faster
  return Math.max(1, Math.floor(seconds * SECOND + 0.5));
}
