import type { Board, Scenario } from "../model/scenario.js";
import { cycleUnits, sequence } from "../counters/sequence.js";
import { NOMINAL, type Build } from "./build.js";
import { clockwork, times, type Clockwork } from "./clockwork.js";
import type { Seconds } from "../units/time.js";

/** A board's times at the room's mean temperature, in seconds, before any drift and jitter. Infinite where the timer stalls. */
export interface BoardTimes {
  readonly stepSeconds: Seconds;
  /** The first step after switch-on. */
  readonly firstStepSeconds: Seconds;
  /** All steps once round, holds included; for a shuffle the mean time to come back to a row. */
  readonly cycleSeconds: Seconds;
  /** From switch-on at the first step until the board comes back there for the first time. */
  readonly firstReturnSeconds: Seconds;
  /** Null for a board that is clocked by another's carry. */
  readonly clockwork: Clockwork | null;
}

/**
 * The times of every board of a build. A carry board's step lasts one cycle of the board that clocks it.
 * Seconds, infinite where a timer of the build stalls. Throws nothing.
 *
 * @example
 * ```ts
 * import { boardTimes, readScenario } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const [north] = boardTimes(scenario);
 * console.log(Math.round(north!.cycleSeconds / north!.stepSeconds)); // 8
 * ```
 */
export function boardTimes(scenario: Scenario, build: Build = NOMINAL): BoardTimes[] {
  const known: (BoardTimes | undefined)[] = [];
  const timesOf = (b: number): BoardTimes => {
    const board = scenario.boards[b]!;
    return (known[b] ??= board.timer.kind === "carry" ? carried(board, timesOf(board.timer.from)) : timed(board));
  };
  const timed = (board: Board): BoardTimes => {
    if (board.timer.kind === "carry") throw new Error(`board ${board.id} has no timer of its own`);
    const works = clockwork(board.id, board.timer, scenario.supply.volts, scenario.room, build);
    const period = works.period(scenario.room.mean);
    const first = works.firstPeriod(scenario.room.mean);
    return timesOfBoard(board, works.divide * period, first + times(works.divide - 1, period), works);
  };
  return scenario.boards.map((_, b) => timesOf(b));
}

function carried(board: Board, source: BoardTimes): BoardTimes {
  return timesOfBoard(board, source.cycleSeconds, source.firstReturnSeconds, null);
}

function timesOfBoard(board: Board, stepSeconds: Seconds, firstStepSeconds: Seconds, works: Clockwork | null): BoardTimes {
  const seq = sequence(board.counter);
  const cycleSeconds = cycleUnits(seq) * stepSeconds;
  const firstReturnSeconds = stepSeconds === Infinity ? Infinity : cycleSeconds + seq.hold(0) * (firstStepSeconds - stepSeconds);
  return { stepSeconds, firstStepSeconds, cycleSeconds, firstReturnSeconds, clockwork: works };
}
