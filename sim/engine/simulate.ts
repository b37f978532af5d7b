import type { Scenario } from "../model/scenario.js";
import { below, stream, type Stream } from "../random/streams.js";
import { NOMINAL, type Build } from "../timers/build.js";
import { clockwork } from "../timers/clockwork.js";
import { openings, type OpenHours } from "./calendar.js";
import { growingDoubles, growingInts, type Growing } from "./growing.js";
import { expectedPulses } from "./limits.js";
import { EventQueue, Phase } from "./queue.js";
import type { OpeningRecord, SceneRecord, Trace } from "./record.js";
import { Atlas, SceneTable } from "./scenes.js";
import { StepClock } from "./stepclock.js";
import { wire, type BoardWiring } from "./wiring.js";
import { HOUR } from "../units/time.js";

export interface SimulateOptions {
  /** Actual part values; default: the nominal build. */
  readonly build?: Build;
  /** Record every move of every counter too (memory: 16 bytes a pulse). */
  readonly trace?: boolean;
}

/** What is out of order on a display. */
export interface Disorder {
  /** What each board's counter really lights; default: what the scenario says. */
  readonly wiring?: readonly BoardWiring[];
  /** Indices of boards that never leave the step where they woke, and so clock no other. */
  readonly still?: ReadonlySet<number>;
}

/**
 * Runs a display through all its openings and records the scenes. Deterministic: the same scenario and build give the
 * same record. Throws {@link RunTooLongError} when it would need more pulses than the engine accepts.
 */
export function simulate(scenario: Scenario, options: SimulateOptions = {}): SceneRecord {
  return simulator(scenario)(options);
}

/**
 * As {@link simulate}, for many builds of one scenario: what all builds share is worked out once. The display may be
 * out of order.
 */
export function simulator(
  scenario: Scenario,
  { wiring = wire(scenario), still = new Set() }: Disorder = {},
): (options?: SimulateOptions) => SceneRecord {
  const hours = openings(scenario.opening);
  const shared = new Atlas(wiring);
  const expected = expectedPulses(scenario);
  return ({ build = NOMINAL, trace = false } = {}) => {
    const atlas = shared.shareable ? shared : new Atlas(wiring);
    return new Run(scenario, hours, wiring, still, atlas, expected, build, trace).go();
  };
}

/** The state of one run. Boards move by slots: a timer in slot b, stray pulses in slot boards + b, then the calendar. */
class Run {
  private readonly boards: number;
  private readonly calendarSlot: number;
  private readonly queue: EventQueue;
  private readonly table: SceneTable;
  private readonly clocks: (StepClock | null)[];
  private readonly followers: number[][];
  private readonly shuffles: (Stream | null)[];
  private readonly powerUps: (Stream | null)[];
  private readonly glitches: Stream[];
  private readonly glitchMean: number;
  private readonly steps: Int32Array;
  private readonly holds: boolean;
  private readonly step: Int32Array;
  private readonly pulses: Float64Array;

  private readonly spellStart: Growing<Float64Array>;
  private readonly spellScene: Growing<Int32Array>;
  private readonly opened: OpeningRecord[] = [];
  private openingFirst = 0;
  private open = false;
  /** Scene of the running spell, −1 before the first of an opening. */
  private shown = -1;

  private readonly traceTime: Growing<Float64Array>;
  private readonly traceBoard: Growing<Int32Array>;
  private readonly traceStep: Growing<Int32Array>;

  constructor(
    private readonly scenario: Scenario,
    private readonly hours: readonly OpenHours[],
    private readonly wiring: readonly BoardWiring[],
    private readonly still: ReadonlySet<number>,
    atlas: Atlas,
    expected: number,
    private readonly build: Build,
    private readonly tracing: boolean,
  ) {
    this.spellStart = growingDoubles(expected);
    this.spellScene = growingInts(expected);
    this.traceTime = growingDoubles(tracing ? expected : 0);
    this.traceBoard = growingInts(tracing ? expected : 0);
    this.traceStep = growingInts(tracing ? expected : 0);
    const { boards, supply, room, seed } = scenario;
    this.boards = boards.length;
    const stray = supply.glitches > 0;
    this.calendarSlot = stray ? 2 * this.boards : this.boards;
    this.queue = new EventQueue(this.calendarSlot + 1);
    this.table = new SceneTable(atlas);
    this.steps = Int32Array.from(wiring, ({ sequence }) => sequence.steps);
    this.holds = boards.some(({ counter }) => counter.kind === "table");
    this.step = new Int32Array(this.boards);
    this.pulses = new Float64Array(this.boards);
    this.clocks = boards.map(({ id, timer }, b) =>
      timer.kind === "carry" || still.has(b)
        ? null
        : new StepClock(
            clockwork(id, timer, supply.volts, room, build),
            room,
            stream(seed, build.number, id, "jitter"),
          ),
    );
    this.followers = boards.map((_, from) =>
      boards.flatMap(({ timer }, b) => (timer.kind === "carry" && timer.from === from && !still.has(b) ? [b] : [])),
    );
    this.shuffles = wiring.map(({ sequence }, b) =>
      sequence.shuffled ? stream(seed, build.number, boards[b]!.id, "shuffle") : null,
    );
    this.powerUps = boards.map(({ id, counter }) =>
      counter.powerUp === "anywhere" ? stream(seed, build.number, id, "power-up") : null,
    );
    this.glitches = stray ? boards.map(({ id }) => stream(seed, build.number, id, "glitches")) : [];
    this.glitchMean = stray ? HOUR / supply.glitches : Infinity;
  }

  go(): SceneRecord {
    const { queue } = this;
    const times = queue.times;
    let nextDay = 0;
    let now = this.hours[0]!.from;
    queue.put(this.calendarSlot, now, Phase.SwitchOn);
    for (;;) {
      const slot = queue.next();
      const t = times[slot]!;
      // All events of one microsecond are applied before the scene is looked at
      if (t !== now) {
        if (this.open) this.recordScene(now);
        now = t;
      }
      if (slot < this.boards) {
        this.pulse(slot, t);
        this.startStep(slot, t, false);
      } else if (slot !== this.calendarSlot) {
        this.pulse(slot - this.boards, t);
        this.awaitGlitch(slot - this.boards, t);
      } else if (queue.phase(slot) === Phase.SwitchOn) {
        if (nextDay === 0 || !this.scenario.opening.overnight) this.switchOn(t);
        this.beginOpening();
        queue.put(slot, this.hours[nextDay]!.until, Phase.SwitchOff);
      } else {
        this.endOpening(this.hours[nextDay]!);
        nextDay++;
        const last = nextDay === this.hours.length;
        if (last || !this.scenario.opening.overnight) this.switchOff(t);
        if (last) return this.record();
        queue.put(slot, this.hours[nextDay]!.from, Phase.SwitchOn);
      }
    }
  }

  /** One clock pulse at board b, and at every board that is clocked by its carry. */
  private pulse(b: number, t: number): void {
    const shuffle = this.shuffles[b];
    let step = this.step[b]! + 1;
    if (shuffle != null) {
      // any row but the one it is at
      const other = below(shuffle, this.steps[b]! - 1);
      step = other < step - 1 ? other : other + 1;
    } else if (step === this.steps[b]!) {
      step = 0;
    }
    this.pulses[b] = this.pulses[b]! + 1;
    this.moveTo(b, step, t);
    if (step === 0) for (const follower of this.followers[b]!) this.pulse(follower, t);
  }

  private moveTo(b: number, step: number, t: number): void {
    this.step[b] = step;
    this.table.show(b, this.wiring[b]!.patternAt[step]!);
    if (this.tracing) this.noteMove(t, b, step);
  }

  private noteMove(t: number, b: number, step: number): void {
    this.traceTime.push(t);
    this.traceBoard.push(b);
    this.traceStep.push(step);
  }

  private startStep(b: number, t: number, fresh: boolean): void {
    const hold = this.holds ? this.wiring[b]!.sequence.hold(this.step[b]!) : 1;
    this.queue.put(b, t + this.clocks[b]!.step(t, hold, fresh), Phase.Pulse);
  }

  private awaitGlitch(b: number, t: number): void {
    // 1 − u lies in (0, 1]: the logarithm is finite
    const wait = -Math.log(1 - this.glitches[b]!.uniform()) * this.glitchMean;
    this.queue.put(this.boards + b, t + Math.max(1, Math.round(wait)), Phase.Pulse);
  }

  private switchOn(t: number): void {
    for (let b = 0; b < this.boards; b++) {
      const anywhere = this.powerUps[b];
      this.moveTo(b, anywhere == null ? 0 : below(anywhere, this.wiring[b]!.sequence.steps), t);
      this.clocks[b]?.switchOn(t);
    }
    for (let b = 0; b < this.boards; b++) {
      if (this.clocks[b] !== null) this.startStep(b, t, true);
      if (this.glitches.length > 0 && !this.still.has(b)) this.awaitGlitch(b, t);
    }
  }

  private switchOff(t: number): void {
    for (let b = 0; b < this.boards; b++) {
      this.clocks[b]?.switchOff(t);
      this.table.show(b, -1);
      if (this.tracing) this.noteMove(t, b, -1);
    }
    for (let slot = 0; slot < this.calendarSlot; slot++) this.queue.clear(slot);
  }

  private beginOpening(): void {
    this.open = true;
    this.openingFirst = this.spellStart.length;
    this.shown = -1;
  }

  private endOpening({ from, until }: OpenHours): void {
    this.open = false;
    this.opened.push({ from, until, first: this.openingFirst, end: this.spellStart.length });
  }

  private recordScene(t: number): void {
    const scene = this.table.scene();
    if (scene === this.shown) return;
    this.shown = scene;
    this.spellStart.push(t);
    this.spellScene.push(scene);
  }

  private record(): SceneRecord {
    const trace: Trace | null = this.tracing
      ? { time: this.traceTime.values(), board: this.traceBoard.values(), step: this.traceStep.values() }
      : null;
    return {
      scenario: this.scenario,
      build: this.build,
      openings: this.opened,
      spellStart: this.spellStart.values(),
      spellScene: this.spellScene.values(),
      scenes: this.table.scenes,
      boards: this.scenario.boards.map(({ id }, b) => ({ id, pulses: this.pulses[b]! })),
      trace,
    };
  }
}
