import type { Micros } from "../units/time.js";

/**
 * Kinds of event at one instant, in the order in which they happen. Power goes off before it comes on, so that two
 * openings which touch at midnight are a real switch-off and switch-on; pulses come last, so that a pulse at closing
 * time finds the board without power.
 */
export const Phase = { SwitchOff: 0, SwitchOn: 1, Pulse: 2 } as const;
export type Phase = (typeof Phase)[keyof typeof Phase];

/**
 * The events to come: every source of events (a timer, the calendar) has one slot and at most one event pending in it.
 * Events are taken in order of (time, phase, order of entry). An empty slot stands at Infinity.
 * A linear scan over the slots beats a heap up to about a dozen of them, and displays have a handful of boards.
 */
export class EventQueue {
  readonly times: Float64Array;
  private readonly phases: Uint8Array;
  private readonly entries: Float64Array;
  private entered = 0;

  constructor(slots: number) {
    this.times = new Float64Array(slots).fill(Infinity);
    this.phases = new Uint8Array(slots);
    this.entries = new Float64Array(slots);
  }

  /** Puts an event into a slot, in place of what was pending there. */
  put(slot: number, time: Micros, phase: Phase): void {
    this.times[slot] = time;
    this.phases[slot] = phase;
    this.entries[slot] = this.entered++;
  }

  /** Takes the event of a slot out. */
  clear(slot: number): void {
    this.times[slot] = Infinity;
  }

  phase(slot: number): Phase {
    return this.phases[slot] as Phase;
  }

  /** The slot whose event comes next; its time is Infinity when nothing is pending. */
  next(): number {
    const times = this.times;
    let best = 0;
    let earliest = times[0]!;
    for (let slot = 1; slot < times.length; slot++) {
      const time = times[slot]!;
      if (time < earliest || (time === earliest && this.precedes(slot, best))) {
        best = slot;
        earliest = time;
      }
    }
    return best;
  }

  private precedes(a: number, b: number): boolean {
    const phase = this.phases[a]! - this.phases[b]!;
    return phase < 0 || (phase === 0 && this.entries[a]! < this.entries[b]!);
  }
}
