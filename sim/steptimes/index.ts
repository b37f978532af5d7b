import { cycleUnits, sequence } from "../counters/sequence.js";
import { poweredHours } from "../engine/calendar.js";
import type { Board, Scenario } from "../model/scenario.js";
import type { Build } from "../timers/build.js";
import { clockwork, type Clockwork } from "../timers/clockwork.js";
import type { Reach } from "../timers/trim.js";
import { type Seconds, toMicros, toSeconds } from "../units/time.js";

/** How long the steps of one board last in one build, seconds; the first step after switch-on is left out. */
export interface BoardSteps {
  readonly id: string;
  /** A plain step at the room's mean temperature, before drift and hold. */
  readonly meanSeconds: Seconds;
  readonly shortest: StepExtreme;
  /** Infinite where the timer stalls at some temperature of the room. */
  readonly longest: StepExtreme;
  /** Whether the trimmer could be set to the wanted step time; null for a board that is clocked by a carry. */
  readonly reach: Reach | null;
}

export interface StepExtreme {
  /** Whole microseconds, as seconds. */
  readonly seconds: Seconds;
  /** Room temperature at which it occurs, °C; null where temperature has no effect. */
  readonly theta: number | null;
  /** Powered hours at which it occurs; null without drift. */
  readonly hours: number | null;
}

/**
 * The step times of every board of a build, worked out from parts, temperature, drift and hold: the extremes over all
 * room temperatures mean ± swing and over the powered hours of the run. Jitter and stray pulses are left out, since
 * they have no limit that could be promised. A step of a carry board is one cycle of the board that clocks it (for a
 * shuffle the mean time to come back to its first row). What all builds share is worked out once.
 */
export function stepTimes(scenario: Scenario): (build: Build) => BoardSteps[] {
  const hours = poweredHours(scenario.opening);
  const holds = scenario.boards.map(holdsOf);
  return (build) => {
    const known: (Steps | undefined)[] = [];
    const stepsOf = (b: number): Steps => (known[b] ??= steps(b));
    const steps = (b: number): Steps => {
      const board = scenario.boards[b]!;
      return board.timer.kind === "carry" ? carried(stepsOf(board.timer.from), holds[board.timer.from]!) : timed(board, build);
    };
    const timed = ({ id, timer }: Board, of: Build): Steps => {
      if (timer.kind === "carry") throw new Error(`board ${id} has no timer of its own`);
      const works = clockwork(id, timer, scenario.supply.volts, scenario.room, of);
      return {
        meanSeconds: works.divide * works.period(scenario.room.mean),
        shortest: extremePeriod(scenario, works, hours, -1),
        longest: extremePeriod(scenario, works, hours, 1),
        reach: works.reach,
        micros: (seconds, hold) => works.divide * Math.max(1, toMicros(seconds * hold)),
      };
    };
    return scenario.boards.map(({ id }, b) => {
      const { meanSeconds, shortest, longest, reach, micros } = stepsOf(b);
      const { least, most } = holds[b]!;
      const at = ({ seconds, theta, hours: after }: StepExtreme, hold: number): StepExtreme => ({
        seconds: toSeconds(micros(seconds, hold)),
        theta,
        hours: after,
      });
      return { id, meanSeconds, shortest: at(shortest, least), longest: at(longest, most), reach };
    });
  };
}

/**
 * The mean step time alone, as in {@link BoardSteps}, of board b in a build: quicker where nothing else is wanted.
 * Infinity where the timer stalls.
 */
export function meanStep(scenario: Scenario): (b: number, build: Build) => number {
  const cycles = scenario.boards.map(({ counter }) => cycleUnits(sequence(counter)));
  const seconds = (b: number, build: Build): number => {
    const { id, timer } = scenario.boards[b]!;
    if (timer.kind === "carry") return cycles[timer.from]! * seconds(timer.from, build);
    const works = clockwork(id, timer, scenario.supply.volts, scenario.room, build);
    return works.divide * works.period(scenario.room.mean);
  };
  return seconds;
}

/** Boards whose timer stalls at some temperature of the room: they never clock, or stop clocking. */
export function stalledBoards(boards: readonly BoardSteps[]): string[] {
  return boards.filter(({ longest, meanSeconds }) => !Number.isFinite(longest.seconds + meanSeconds)).map(({ id }) => id);
}

/** Extremes of one timer period, and what a step with a hold factor makes of one. */
interface Steps extends Omit<BoardSteps, "id"> {
  /** Microseconds of a step whose periods last `seconds` each before the hold. */
  readonly micros: (seconds: Seconds, hold: number) => number;
}

interface Holds {
  readonly least: number;
  readonly most: number;
  /** Each factor with the number of steps that have it. */
  readonly counts: ReadonlyMap<number, number>;
  readonly cycle: number;
}

function holdsOf({ counter }: Board): Holds {
  const seq = sequence(counter);
  const counts = new Map<number, number>();
  for (let s = 0; s < seq.steps; s++) counts.set(seq.hold(s), (counts.get(seq.hold(s)) ?? 0) + 1);
  return { least: Math.min(...counts.keys()), most: Math.max(...counts.keys()), counts, cycle: cycleUnits(seq) };
}

function carried(source: Steps, holds: Holds): Steps {
  const cycle = ({ seconds, theta, hours }: StepExtreme): StepExtreme => {
    let micros = 0;
    for (const [hold, steps] of holds.counts) micros += steps * source.micros(seconds, hold);
    return { seconds: toSeconds(micros), theta, hours };
  };
  return {
    meanSeconds: holds.cycle * source.meanSeconds,
    shortest: cycle(source.shortest),
    longest: cycle(source.longest),
    reach: null,
    micros: toMicros,
  };
}

/** The longest (sign 1) or shortest (−1) period over temperature and drift; seconds not rounded yet. */
function extremePeriod(
  { room }: Scenario,
  works: Clockwork,
  poweredFor: number,
  sign: 1 | -1,
): StepExtreme {
  const warmth = works.warmthMatters && room.swing !== 0;
  const theta = warmth
    ? highest((x) => sign * works.period(x), room.mean - room.swing, room.mean + room.swing)
    : room.mean;
  const hours = sign * works.drift > 0 ? poweredFor : 0;
  return {
    seconds: works.period(theta) * (1 + works.drift * hours),
    theta: warmth ? theta : null,
    hours: works.drift === 0 ? null : hours,
  };
}

const CELLS = 8;
/** To how many kelvin the place of an extreme is found. */
const FINE = 1e-6;

/**
 * Where f is highest between two arguments. Opposed temperature coefficients can put the extreme inside the range,
 * so the best of a few samples is refined by trisection between its neighbours; not where it is an end towards which f rises,
 * as it nearly always is.
 */
function highest(f: (x: number) => number, low: number, high: number): number {
  const at = (i: number): number => low + ((high - low) * i) / CELLS;
  let best = 0;
  let most = f(low);
  for (let i = 1; i <= CELLS; i++) {
    const value = f(at(i));
    if (value > most) {
      best = i;
      most = value;
    }
  }
  if (best === 0 && f(low + FINE) < most) return low;
  if (best === CELLS && f(high - FINE) < most) return at(CELLS);
  let left = at(Math.max(0, best - 1));
  let right = at(Math.min(CELLS, best + 1));
  while (right - left > FINE) {
    const third = (right - left) / 3;
    if (f(left + third) < f(right - third)) left += third;
    else right -= third;
  }
  const middle = (left + right) / 2;
  return f(middle) > most ? middle : at(best);
}
