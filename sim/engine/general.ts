import { isEven } from "../counters/sequence.js";
import { below } from "../random/streams.js";
import { EventQueue, Phase } from "./queue.js";
import type { RunParts } from "./run.js";
import type { Micros } from "../units/time.js";

/**
 * The loop for displays whose boards act on each other (carry), move by chance (shuffles, stray pulses), or are traced:
 * every event goes through the queue. A timer has the slot b of its board, stray pulses have slot boards + b, then comes
 * the calendar, and last the board that begins anew now and then.
 */
export class GeneralRun {
  readonly pulses: Float64Array;
  private readonly boards: number;
  private readonly calendarSlot: number;
  private readonly queue: EventQueue;
  private readonly followers: number[][];
  private readonly steps: Int32Array;
  private readonly holds: boolean;
  private readonly step: Int32Array;
  private open = false;
  private nextDay = 0;
  private nextRestart = 0;
  private now: number;

  /** `noteMove`: told of every move of every counter; step −1: power off. */
  constructor(
    private readonly parts: RunParts,
    private readonly noteMove: ((time: Micros, board: number, step: number) => void) | null,
  ) {
    const { scenario, wiring, still, chances } = parts;
    const { boards } = scenario;
    this.boards = boards.length;
    this.calendarSlot = chances.strays === null ? this.boards : 2 * this.boards;
    this.queue = new EventQueue(this.calendarSlot + (parts.restarts.moments.length === 0 ? 1 : 2));
    this.now = parts.hours[0]!.from;
    this.queue.put(this.calendarSlot, this.now, Phase.SwitchOn);
    this.awaitRestart();
    this.steps = Int32Array.from(wiring, ({ sequence }) => sequence.steps);
    this.holds = !boards.every(({ counter }) => isEven(counter));
    this.step = new Int32Array(this.boards);
    this.pulses = new Float64Array(this.boards);
    this.followers = boards.map((_, from) =>
      boards.flatMap(({ timer }, b) => (timer.kind === "carry" && timer.from === from && !still.has(b) ? [b] : [])),
    );
  }

  go(): void {
    this.advance(Infinity);
  }

  /** Goes on for so many events; false when the run has ended. */
  advance(events: number): boolean {
    const { queue } = this;
    const { hours, finder, recorder, scenario } = this.parts;
    const { overnight } = scenario.opening;
    const times = queue.times;
    let { nextDay, now } = this;
    for (let left = events; left > 0; left--) {
      const slot = queue.next();
      const t = times[slot]!;
      // All events of one microsecond are applied before the scene is looked at
      if (t !== now) {
        if (this.open) recorder.look(now, finder.scene());
        now = t;
      }
      if (slot < this.boards) {
        this.pulse(slot, t);
        this.startStep(slot, t, false);
      } else if (slot > this.calendarSlot) {
        this.restart(t);
      } else if (slot !== this.calendarSlot) {
        this.pulse(slot - this.boards, t);
        this.awaitStray(slot - this.boards, t);
      } else if (queue.phase(slot) === Phase.SwitchOn) {
        if (nextDay === 0 || !overnight) this.switchOn(t);
        this.open = true;
        recorder.open();
        queue.put(slot, hours[nextDay]!.until, Phase.SwitchOff);
      } else {
        this.open = false;
        recorder.close(hours[nextDay]!);
        nextDay++;
        const last = nextDay === hours.length;
        if (last || !overnight) this.switchOff(t);
        if (last) return false;
        queue.put(slot, hours[nextDay]!.from, Phase.SwitchOn);
      }
    }
    this.nextDay = nextDay;
    this.now = now;
    return true;
  }

  /** One clock pulse at board b, and at every board that is clocked by its carry. */
  private pulse(b: number, t: Micros): void {
    const shuffle = this.parts.chances.shuffles[b];
    let step = this.step[b]! + 1;
    if (shuffle != null) {
      // any row but the one it is at
      const other = below(shuffle, this.steps[b]! - 1);
      step = other < step - 1 ? other : other + 1;
    } else if (step === this.steps[b]!) {
      step = 0;
    }
    this.pulses[b]!++;
    this.moveTo(b, step, t);
    if (step === 0) for (const follower of this.followers[b]!) this.pulse(follower, t);
  }

  private moveTo(b: number, step: number, t: Micros): void {
    this.step[b] = step;
    this.parts.finder.move(b, step);
    this.noteMove?.(t, b, step);
  }

  private startStep(b: number, t: Micros, fresh: boolean): void {
    const hold = this.holds ? this.parts.wiring[b]!.sequence.hold(this.step[b]!) : 1;
    this.queue.put(b, t + this.parts.clocks[b]!.step(t, hold, fresh), Phase.Pulse);
  }

  private awaitStray(b: number, t: Micros): void {
    this.queue.put(this.boards + b, t + this.parts.chances.untilStray(b), Phase.Pulse);
  }

  private awaitRestart(): void {
    const moment = this.parts.restarts.moments[this.nextRestart++];
    if (moment !== undefined) this.queue.put(this.calendarSlot + 1, moment, Phase.SwitchOn);
    else if (this.nextRestart > 1) this.queue.clear(this.calendarSlot + 1);
  }

  /** A loose joint has taken the power from one board for a moment. */
  private restart(t: Micros): void {
    const { restarts, chances, clocks } = this.parts;
    const b = restarts.board;
    const clock = clocks[b];
    this.moveTo(b, chances.wakesAt(b, this.steps[b]!), t);
    if (clock != null) {
      clock.switchOff(t);
      clock.switchOn(t);
      this.startStep(b, t, true);
    }
    this.awaitRestart();
  }

  private switchOn(t: Micros): void {
    const { chances, clocks, still } = this.parts;
    for (let b = 0; b < this.boards; b++) {
      this.moveTo(b, chances.wakesAt(b, this.steps[b]!), t);
      clocks[b]?.switchOn(t);
    }
    for (let b = 0; b < this.boards; b++) {
      if (clocks[b] !== null) this.startStep(b, t, true);
      if (chances.strays !== null && !still.has(b)) this.awaitStray(b, t);
    }
  }

  private switchOff(t: Micros): void {
    for (let b = 0; b < this.boards; b++) {
      this.parts.clocks[b]?.switchOff(t);
      this.noteMove?.(t, b, -1);
    }
    for (let slot = 0; slot < this.calendarSlot; slot++) this.queue.clear(slot);
  }
}
