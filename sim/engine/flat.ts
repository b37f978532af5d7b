import type { Recorder } from "./recorder.js";
import type { RunParts } from "./run.js";
import { Slice } from "./slice.js";
import type { Rhythm } from "./stepclock.js";
import { firstSteps } from "./wiring.js";
import type { Micros } from "../units/time.js";

/** About how many pulses are taken at a time, few enough to stay in the processor's nearest memory; of many boards so many of each. */
const TOGETHER = 768;
const OF_EACH = 24;

/** Up to how many pulses of a board are worked out without looking whether there is room for more. */
const BLOCK = 128;

/**
 * The loop for displays whose boards do nothing to each other. It goes on from slice of time to slice of time: each board's
 * pulses up to the end of the slice are worked out all by themselves, those of all boards are put in order, and scenes are found
 * for them. Boards that pulse in one instant may come in any order, since the scene is looked at behind the last of them.
 */
export class FlatRun {
  readonly pulses: Float64Array;
  private readonly rhythms: readonly Rhythm[];
  private readonly step: Int32Array;
  /** Number of the first step of each board, the steps of all being numbered through. */
  private readonly first: Int32Array;
  /** When each board pulses next. */
  private readonly next: Float64Array;
  private readonly slice: Slice;
  /** How long a slice is. */
  private readonly span: Micros;
  /** All pulses before this moment are done. */
  private now = 0;

  constructor(
    private readonly parts: RunParts,
    private readonly recorder: Recorder,
  ) {
    const { wiring, clocks } = parts;
    this.rhythms = wiring.map(({ sequence }) => {
      const { steps } = sequence;
      const holds = Float64Array.from({ length: steps }, (_, step) => sequence.hold(step));
      return { steps, holds: holds.some((factor) => factor !== 1) ? holds : null };
    });
    this.pulses = new Float64Array(wiring.length);
    this.step = new Int32Array(wiring.length);
    this.next = new Float64Array(wiring.length).fill(Infinity);
    const together = Math.max(TOGETHER, OF_EACH * wiring.length);
    const pace = clocks.reduce((sum, clock) => sum + (clock === null ? 0 : 1 / clock.mean), 0);
    this.first = firstSteps(wiring);
    this.slice = new Slice(wiring.length, this.first[wiring.length]!, 2 * together);
    this.span = Math.min(Math.ceil(together / pace), this.slice.longest);
  }

  go(): void {
    const { recorder } = this;
    const { hours, finder, scenario } = this.parts;
    const { overnight } = scenario.opening;
    hours.forEach((opening, day) => {
      const { from, until } = opening;
      if (day === 0 || !overnight) this.switchOn(from);
      this.skip(from + 1);
      recorder.open();
      recorder.look(from, finder.scene());
      while (this.now < until) this.show(until);
      recorder.close(opening);
      if (!overnight || day === hours.length - 1) for (const clock of this.parts.clocks) clock?.switchOff(until);
    });
  }

  private switchOn(t: Micros): void {
    const { chances, clocks } = this.parts;
    this.now = t;
    clocks.forEach((clock, b) => {
      const { steps, holds } = this.rhythms[b]!;
      const step = chances.wakesAt(b, steps);
      this.step[b] = step;
      if (clock === null) return;
      clock.switchOn(t);
      this.next[b] = t + clock.step(t, holds?.[step] ?? 1, true);
    });
  }

  /** Records a slice of time, up to `until` at most. */
  private show(until: Micros): void {
    const { slice } = this;
    this.gather(until);
    slice.order();
    this.parts.finder.follow(slice);
    this.recorder.lookAll(slice);
  }

  /** All that happens before t, unseen. */
  private skip(t: Micros): void {
    while (this.now < t) this.gather(t);
    for (let b = 0; b < this.step.length; b++) this.parts.finder.move(b, this.step[b]!);
  }

  /** Takes the next pulses into the slice, those of one board after those of the other: a slice of time, but none from `until` on. */
  private gather(until: Micros): void {
    const { next, slice } = this;
    const end = Math.min(this.now + this.span, until);
    slice.begin(this.now);
    this.now = end;
    for (let b = 0; b < next.length; b++) if (next[b]! < end) this.pulse(b, end);
  }

  /** Takes the pulses of board b before `end`, of which there is one, into the slice. */
  private pulse(b: number, end: Micros): void {
    const { slice, rhythms } = this;
    const { steps } = rhythms[b]!;
    const clock = this.parts.clocks[b]!;
    const first = slice.count;
    let last = this.next[b]!;
    let place = first + 1;
    slice.room(first, 1)[first] = last;
    while (last < end) {
      const times = slice.room(place, BLOCK);
      place = clock.ahead(times, place, place + BLOCK, last, end, rhythms[b]!, (this.step[b]! + place - first) % steps);
      last = times[place - 1]!;
    }
    // the last of them comes later
    this.next[b] = last;
    slice.add(place - 1, this.first[b]!, steps, this.step[b]!);
    this.pulses[b]! += place - 1 - first;
    this.step[b] = (this.step[b]! + place - 1 - first) % steps;
  }
}
