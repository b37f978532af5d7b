import type { Scenario } from "../model/scenario.js";
import { stream } from "../random/streams.js";
import { NOMINAL, type Build } from "../timers/build.js";
import { clockwork } from "../timers/clockwork.js";
import { openings } from "./calendar.js";
import { Chances } from "./chances.js";
import { FlatRun } from "./flat.js";
import { GeneralRun } from "./general.js";
import { expectedPulses, refuseVanishingSteps } from "./limits.js";
import { Teller, type RunListener } from "./listener.js";
import type { SceneRecord } from "./record.js";
import { Recorder } from "./recorder.js";
import type { Restarts, RunParts } from "./run.js";
import { sceneFinders } from "./scenes.js";
import { StepClock } from "./stepclock.js";
import { TraceBook } from "./tracebook.js";
import { wire, type BoardWiring } from "./wiring.js";

/** What is simulated besides the scenario. */
export interface SimulateOptions {
  /** Actual part values; default: the nominal build. */
  readonly build?: Build;
  /** Record every move of every counter too (memory: 16 bytes a pulse). */
  readonly trace?: boolean;
  /**
   * A record that nobody will look at again: its lists are written over. Saves memory that would have to be cleared away, where
   * many builds are looked at one after the other.
   */
  readonly over?: SceneRecord | undefined;
}

/** What is out of order on a display. */
export interface Disorder {
  /** What each board's counter really lights; default: what the scenario says. */
  readonly wiring?: readonly BoardWiring[];
  /** Indices of boards that never leave the step where they woke, and so clock no other. */
  readonly still?: ReadonlySet<number>;
  /** Steps at which boards wake, by index of the board. */
  readonly wakes?: ReadonlyMap<number, number>;
  /** Moments at which one board begins anew, as if it had been switched off and on. */
  readonly restarts?: Restarts;
}

/** A build may go a little faster than the nominal one, and a list that is one too short is copied as a whole. */
const SPELLS_PER_PULSE = 1.02;

const NO_RESTARTS: Restarts = { board: 0, moments: [] };

/**
 * Runs a display through all its openings and records the scenes. Deterministic: the same scenario and build give the
 * same record. Throws {@link RunTooLongError} when it would need more pulses than the engine accepts.
 * Times of the record are microseconds since Monday 00:00.
 *
 * @example
 * ```ts
 * import { readScenario, simulate } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const record = simulate(scenario);
 * console.log(record.openings.length); // 10
 * ```
 */
export function simulate(scenario: Scenario, options: SimulateOptions = {}): SceneRecord {
  return simulator(scenario)(options);
}

/**
 * As {@link simulate}, for many builds of one scenario: what all builds share is worked out once. The display may be
 * out of order.
 * Throws {@link RunTooLongError} as that does.
 *
 * @example
 * ```ts
 * import { buildOf, readScenario, simulator } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const run = simulator(scenario);
 * const pulses = [1, 2, 3].map((number) => run({ build: buildOf(scenario, number) }).boards[0]!.pulses);
 * console.log(pulses.length); // 3
 * ```
 */
export function simulator(
  scenario: Scenario,
  { wiring = wire(scenario), still = new Set(), wakes = new Map(), restarts = NO_RESTARTS }: Disorder = {},
): (options?: SimulateOptions) => SceneRecord {
  const { boards, houses, supply } = scenario;
  const hours = openings(scenario.opening);
  const expected = expectedPulses(scenario, wiring);
  const finderFor = sceneFinders(houses.length, wiring);
  const apart =
    supply.glitches === 0 && boards.every(({ timer }) => timer.kind !== "carry") && wiring.every(({ sequence }) => !sequence.shuffled);
  return ({ build = NOMINAL, trace = false, over } = {}) => {
    const recorder = new Recorder(Math.ceil(SPELLS_PER_PULSE * expected) + hours.length, over);
    const parts: RunParts = { ...runParts(scenario, build, { wiring, still, wakes, restarts }), hours, finder: finderFor(expected), recorder };
    const book = trace ? new TraceBook(expected + 2 * boards.length * hours.length) : null;
    const run = apart && restarts.moments.length === 0 && book === null ? new FlatRun(parts, recorder) : new GeneralRun(parts, book?.note ?? null);
    run.go();
    return {
      scenario,
      build,
      openings: recorder.openings,
      ...recorder.spells(),
      scenes: parts.finder.found(),
      boards: boards.map(({ id }, b) => ({ id, pulses: run.pulses[b]! })),
      trace: book?.trace() ?? null,
    };
  };
}

/** What a run of one build needs of its own. */
function runParts(
  scenario: Scenario,
  build: Build,
  { wiring, still, wakes, restarts }: Required<Disorder>,
): Pick<RunParts, "scenario" | "wiring" | "still" | "restarts" | "clocks" | "chances"> {
  const { boards, supply, room, seed } = scenario;
  const clocks = boards.map(({ id, timer }, b) =>
    timer.kind === "carry" || still.has(b)
      ? null
      : new StepClock(clockwork(id, timer, supply.volts, room, build), room, stream(seed, build.number, id, "jitter")),
  );
  return { scenario, wiring, still, restarts, clocks, chances: new Chances(scenario, build.number, wiring, wakes) };
}

/** Scenes of a run that is listened to are looked up as if it were this long: a table of a few megabytes at most. */
const LISTENED_PULSES = 100_000;

/**
 * Runs a display and tells a listener what it shows, keeping nothing: a run of any length needs no more memory than its
 * scenes. It goes on by `advance(events)`, which says whether there is more to come.
 */
export function listenedRun(scenario: Scenario, listener: RunListener, build: Build = NOMINAL): { advance(events: number): boolean } {
  refuseVanishingSteps(scenario);
  const wiring = wire(scenario);
  const hours = openings(scenario.opening);
  const finder = sceneFinders(scenario.houses.length, wiring)(LISTENED_PULSES);
  const parts: RunParts = {
    ...runParts(scenario, build, { wiring, still: new Set(), wakes: new Map(), restarts: NO_RESTARTS }),
    hours,
    finder,
    recorder: new Teller(listener, hours, finder),
  };
  return new GeneralRun(parts, (time, board, step) => listener.moves(time, board, step));
}
