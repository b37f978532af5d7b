import type { OpenHours } from "./calendar.js";
import { Earliest } from "./earliest.js";
import type { RunParts } from "./run.js";
import type { Rhythm } from "./stepclock.js";
import type { Micros } from "../units/time.js";

/** How many pulses of a board are worked out at a time. */
const BLOCK = 128;

/**
 * The loop for displays whose boards do nothing to each other. Each board's pulses are worked out a block at a time, all
 * by themselves; the loop takes the earliest of all boards. Boards that pulse in one instant may come in any order, since
 * the scene is looked at behind the last of them.
 */
export class FlatRun {
  readonly pulses: Float64Array;
  private readonly boards: number;
  private readonly steps: Int32Array;
  private readonly step: Int32Array;
  private readonly rhythms: readonly Rhythm[];
  /** The ends of the steps to come: those of board b from b·BLOCK on. */
  private readonly ends: Float64Array;
  private readonly cursor: Int32Array;
  private readonly filled: Int32Array;
  private readonly next: Earliest;
  private off = 0;

  constructor(private readonly parts: RunParts) {
    const { wiring } = parts;
    this.boards = wiring.length;
    this.steps = Int32Array.from(wiring, ({ sequence }) => sequence.steps);
    this.rhythms = wiring.map(({ sequence }) => {
      const { steps } = sequence;
      const holds = Float64Array.from({ length: steps }, (_, step) => sequence.hold(step));
      return { steps, holds: holds.some((factor) => factor !== 1) ? holds : null };
    });
    this.step = new Int32Array(this.boards);
    this.pulses = new Float64Array(this.boards);
    this.ends = new Float64Array(this.boards * BLOCK);
    this.cursor = new Int32Array(this.boards);
    this.filled = new Int32Array(this.boards);
    this.next = new Earliest(this.boards);
  }

  go(): void {
    const { hours, recorder, clocks, scenario } = this.parts;
    const { overnight } = scenario.opening;
    hours.forEach((opening, day) => {
      if (day === 0 || !overnight) this.switchOn(opening.from, overnight ? hours.at(-1)!.until : opening.until);
      else this.runDark(opening.from);
      recorder.open();
      this.runOpen(opening);
      recorder.close(opening);
      if (!overnight) for (const clock of clocks) clock?.switchOff(opening.until);
    });
  }

  private switchOn(t: Micros, off: Micros): void {
    this.off = off;
    const { chances, clocks, finder } = this.parts;
    for (let b = 0; b < this.boards; b++) {
      this.step[b] = chances.wakesAt(b, this.steps[b]!);
      finder.move(b, this.step[b]!);
      clocks[b]?.switchOn(t);
      this.fill(b, t, true);
    }
  }

  /** No moves are written down. */
  trace(): null {
    return null;
  }

  /** Works out the next pulses of board b, whose present step began at t. */
  private fill(b: number, t: Micros, fresh: boolean): void {
    const clock = this.parts.clocks[b];
    const at = b * BLOCK;
    if (clock == null) {
      this.next.set(b, Infinity);
      return;
    }
    const count = clock.ahead(this.ends.subarray(at, at + BLOCK), t, this.off, this.rhythms[b]!, this.step[b]!, fresh);
    this.filled[b] = at + count;
    this.cursor[b] = at;
    this.next.set(b, this.ends[at]!);
  }

  private runDark(until: Micros): void {
    const { next } = this;
    for (let b = next.first(); next.time(b) < until; b = next.first()) this.pulse(b, next.time(b));
  }

  private runOpen({ from, until }: OpenHours): void {
    const { next } = this;
    const { finder, recorder } = this.parts;
    let t = from;
    let b = next.first();
    for (;;) {
      for (; next.time(b) === t; b = next.first()) this.pulse(b, t);
      recorder.look(t, finder.scene());
      t = next.time(b);
      if (t >= until) return;
    }
  }

  private pulse(b: number, t: Micros): void {
    let step = this.step[b]! + 1;
    if (step === this.steps[b]) step = 0;
    this.step[b] = step;
    this.pulses[b]!++;
    this.parts.finder.move(b, step);
    const cursor = this.cursor[b]! + 1;
    if (cursor === this.filled[b]) {
      this.fill(b, t, false);
    } else {
      this.cursor[b] = cursor;
      this.next.set(b, this.ends[cursor]!);
    }
  }
}
