import { Earliest } from "./earliest.js";
import type { Recorder } from "./recorder.js";
import type { RunParts } from "./run.js";
import { Slice, SLICE } from "./slice.js";
import type { Rhythm } from "./stepclock.js";
import type { Micros } from "../units/time.js";

/** How many pulses of a board are worked out at a time. */
const BLOCK = 128;

/**
 * The loop for displays whose boards do nothing to each other. Each board's pulses are worked out a block at a time, all
 * by themselves; those of all boards are put in order a slice at a time; then scenes are found for the slice. Boards that
 * pulse in one instant may come in any order, since the scene is looked at behind the last of them.
 */
export class FlatRun {
  readonly pulses: Float64Array;
  private readonly boards: number;
  private readonly rhythms: readonly Rhythm[];
  /** The ends of the steps to come: those of board b from b·BLOCK on. */
  private readonly ends: Float64Array;
  /** Where in them a board is, where those end that are worked out, and its step at the first of them. */
  private readonly cursor: Int32Array;
  private readonly filled: Int32Array;
  private readonly step: Int32Array;
  private readonly next: Earliest;
  private readonly slice: Slice;
  private off = 0;

  constructor(
    private readonly parts: RunParts,
    private readonly recorder: Recorder,
  ) {
    const { wiring } = parts;
    this.boards = wiring.length;
    this.rhythms = wiring.map(({ sequence }) => {
      const { steps } = sequence;
      const holds = Float64Array.from({ length: steps }, (_, step) => sequence.hold(step));
      return { steps, holds: holds.some((factor) => factor !== 1) ? holds : null };
    });
    this.pulses = new Float64Array(this.boards);
    this.ends = new Float64Array(this.boards * BLOCK);
    this.cursor = Int32Array.from(wiring, (_, b) => b * BLOCK);
    this.filled = new Int32Array(this.boards);
    this.step = new Int32Array(this.boards);
    this.next = new Earliest(this.boards);
    this.slice = new Slice(this.boards);
  }

  go(): void {
    const { recorder, slice } = this;
    const { hours, finder, scenario } = this.parts;
    const { overnight } = scenario.opening;
    hours.forEach((opening, day) => {
      const { from, until } = opening;
      if (day === 0 || !overnight) this.switchOn(from, overnight ? hours.at(-1)!.until : until);
      this.goOnTo(from);
      recorder.open();
      recorder.look(from, finder.scene());
      while (this.gather(until)) {
        finder.follow(slice);
        recorder.lookAll(slice);
      }
      recorder.close(opening);
      if (!overnight || day === hours.length - 1) this.switchOff(until);
    });
  }

  private switchOn(t: Micros, off: Micros): void {
    this.off = off;
    const { chances, clocks, finder } = this.parts;
    for (let b = 0; b < this.boards; b++) {
      this.step[b] = chances.wakesAt(b, this.rhythms[b]!.steps);
      finder.move(b, this.step[b]!);
      clocks[b]?.switchOn(t);
      this.fill(b, t, true);
    }
  }

  private switchOff(t: Micros): void {
    for (let b = 0; b < this.boards; b++) {
      this.count(b);
      this.parts.clocks[b]?.switchOff(t);
    }
  }

  /** Counts the pulses of board b in its block so far. */
  private count(b: number): void {
    const done = this.cursor[b]! - b * BLOCK;
    this.pulses[b]! += done;
    this.step[b] = (this.step[b]! + done) % this.rhythms[b]!.steps;
    this.cursor[b] = b * BLOCK;
  }

  /** Works out the next pulses of board b, whose present step began at t. */
  private fill(b: number, t: Micros, fresh: boolean): void {
    const clock = this.parts.clocks[b];
    const at = b * BLOCK;
    if (clock == null) {
      this.next.set(b, Infinity);
      return;
    }
    this.filled[b] = clock.ahead(this.ends, at, at + BLOCK, t, this.off, this.rhythms[b]!, this.step[b]!, fresh);
    this.next.set(b, this.ends[at]!);
  }

  /** All that happens up to t and at t, unseen. */
  private goOnTo(t: Micros): void {
    const { slice } = this;
    while (this.gather(t + 1)) for (let i = 0; i < slice.count; i++) this.parts.finder.pulse(slice.board[i]!);
  }

  /** Takes the next pulses before `until` into the slice, whole instants of them; false when there is none. */
  private gather(until: Micros): boolean {
    const { next, ends, cursor, filled, slice } = this;
    const { time, board } = slice;
    let count = 0;
    for (;;) {
      const b = next.first();
      const t = next.time(b);
      if (t >= until || (count >= SLICE && t !== time[count - 1])) break;
      time[count] = t;
      board[count++] = b;
      const at = cursor[b]! + 1;
      cursor[b] = at;
      if (at < filled[b]!) {
        next.set(b, ends[at]!);
      } else {
        this.count(b);
        this.fill(b, t, false);
      }
    }
    time[count] = Infinity;
    slice.count = count;
    return count > 0;
  }
}
