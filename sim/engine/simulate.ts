import type { Scenario } from "../model/scenario.js";
import { stream } from "../random/streams.js";
import { NOMINAL, type Build } from "../timers/build.js";
import { clockwork } from "../timers/clockwork.js";
import { openings } from "./calendar.js";
import { Chances } from "./chances.js";
import { FlatRun } from "./flat.js";
import { GeneralRun } from "./general.js";
import { expectedPulses } from "./limits.js";
import type { SceneRecord } from "./record.js";
import { Recorder } from "./recorder.js";
import type { RunParts } from "./run.js";
import { sceneFinders } from "./scenes.js";
import { StepClock } from "./stepclock.js";
import { wire, type BoardWiring } from "./wiring.js";

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
  const { boards, houses, supply, room, seed } = scenario;
  const hours = openings(scenario.opening);
  const expected = expectedPulses(scenario, wiring);
  const finderFor = sceneFinders(houses.length, wiring);
  const apart =
    supply.glitches === 0 && boards.every(({ timer }) => timer.kind !== "carry") && wiring.every(({ sequence }) => !sequence.shuffled);
  return ({ build = NOMINAL, trace = false } = {}) => {
    const clocks = boards.map(({ id, timer }, b) =>
      timer.kind === "carry" || still.has(b)
        ? null
        : new StepClock(clockwork(id, timer, supply.volts, room, build), room, stream(seed, build.number, id, "jitter")),
    );
    const parts: RunParts = {
      scenario,
      hours,
      wiring,
      still,
      clocks,
      chances: new Chances(scenario, build.number, wiring),
      finder: finderFor(expected),
      recorder: new Recorder(expected + hours.length),
    };
    const run = apart && !trace ? new FlatRun(parts) : new GeneralRun(parts, trace ? expected + 2 * boards.length * hours.length : null);
    run.go();
    return {
      scenario,
      build,
      openings: parts.recorder.openings,
      ...parts.recorder.spells(),
      scenes: parts.finder.found(),
      boards: boards.map(({ id }, b) => ({ id, pulses: run.pulses[b]! })),
      trace: run.trace(),
    };
  };
}
