import type { Scenario } from "../model/scenario.js";
import { cyclicBoards } from "../planning/pairs.js";
import { bisected } from "../statistics/bisection.js";
import { boardTimes } from "../timers/boardtimes.js";
import type { Seconds } from "../units/time.js";
import { corners, type ShiftableParts, type Shifts } from "./shifts.js";

/** Numbers of rounds that are tried for a board, and moments within a stay. */
const MOST_ROUNDS = 200;
const MOST_MOMENTS = 8;
/** How near to a whole round is near enough, as a share of a board's reach. */
const WITHIN = 1e-9;

/** What is looked at before anything is left to chance: nominal parts, parts that bring boards back together, parts at their limits. */
export function firstBuilds(scenario: Scenario, shiftable: ShiftableParts, tries: number): Shifts[] {
  const { nominal, parts } = shiftable;
  return [nominal, ...aimed(scenario, shiftable, Math.floor(tries / 4)), ...corners(parts, Math.ceil(tries / 2))].slice(0, tries);
}

/** A timer, and what hangs on it: how its step follows from how far all of its loose parts have gone the same way. */
interface Clock {
  readonly board: number;
  /** Steps of the timer in a round of each board that it clocks. */
  readonly rounds: readonly number[];
  readonly loose: boolean;
  /** Its step within tolerance. */
  readonly least: Seconds;
  readonly most: Seconds;
  readonly step: (moved: number) => Seconds;
}

/**
 * Builds for promises about coming back, found without simulating: two boards show again what they showed when whole rounds
 * of either take just the time between. So for each timer the step times are looked for, inside its tolerances, with which a
 * whole number of rounds ends when the visitor returns (n·cycle = D); builds are the combinations over the timers, the
 * least moved ones first. For a stay D is any time within it, and the first at which all boards can be back counts most.
 * At most `most` builds; none where nothing of that kind is promised.
 */
function aimed(scenario: Scenario, shiftable: ShiftableParts, most: number): Shifts[] {
  const clocks = clocksOf(scenario, shiftable);
  if (!clocks.some(({ loose }) => loose)) return [];
  const moments = scenario.promises.flatMap((promised) => {
    if (promised.kind === "repeatOnReturn") return [promised.after];
    return promised.kind === "repeatWithinStay" ? commonReturns(clocks, promised.stay) : [];
  });
  const each = Math.floor(most / Math.max(1, moments.length));
  return moments.flatMap((after) => {
    const ways = clocks.map((clock) => waysBack(clock, after) ?? nearest(clock, after));
    return leastMovedFirst(ways, each).map((moved) => {
      const byBoard = new Map(clocks.map(({ board }, i) => [board, moved[i]!]));
      return shiftable.parts.map((part) => byBoard.get(part.board) ?? 0);
    });
  });
}

function clocksOf(scenario: Scenario, shiftable: ShiftableParts): Clock[] {
  const boards = cyclicBoards(scenario);
  return [...new Set(boards.map(({ clock }) => clock))].map((id) => {
    const board = scenario.boards.findIndex((one) => one.id === id);
    const rounds = [...new Set(boards.flatMap(({ clock, clockSteps }) => (clock === id ? [clockSteps] : [])))];
    const loose = shiftable.parts.some((part) => part.board === board);
    // no part makes the step shorter as it grows, so that the step grows with how far they all are moved
    const step = (moved: number): Seconds =>
      boardTimes(scenario, shiftable.build(shiftable.parts.map((part) => (part.board === board ? moved : 0))))[board]!.stepSeconds;
    return { board, rounds, loose, least: step(loose ? -1 : 0), most: step(loose ? 1 : 0), step };
  });
}

/** How far the parts of a timer must be moved for one of its boards to be back after that time; null where none can be. */
function waysBack({ rounds, loose, least, most, step }: Clock, after: Seconds): number[] | null {
  const ways = rounds.flatMap((steps) => {
    const first = Math.max(1, Math.ceil(after / (steps * most)));
    const wanted = Array.from({ length: MOST_ROUNDS }, (_, i) => after / (steps * (first + i))).filter((seconds) => seconds >= least && seconds <= most);
    return wanted.map((seconds) => (loose ? bisected((moved) => step(moved) <= seconds, -1, 1, WITHIN).last : 0));
  });
  return ways.length === 0 ? null : ways.sort((a, b) => Math.abs(a) - Math.abs(b));
}

/** Where no board of the timer can be back: its limits and nominal parts, the one that is least far from a whole round first. */
function nearest({ rounds, loose, step }: Clock, after: Seconds): number[] {
  const off = (moved: number): number => Math.min(...rounds.map((steps) => {
    const turns = after / (steps * step(moved));
    return Math.abs(turns - Math.max(1, Math.round(turns))) * steps;
  }));
  return loose ? [0, -1, 1].sort((a, b) => off(a) - off(b)) : [0];
}

/** The first moments within a stay at which every timer can have brought one of its boards back. */
function commonReturns(clocks: readonly Clock[], stay: Seconds): Seconds[] {
  const earliest = clocks.flatMap(({ rounds, least }) =>
    rounds.flatMap((steps) => Array.from({ length: MOST_ROUNDS }, (_, i) => (i + 1) * steps * least)),
  );
  const moments = [...new Set(earliest)].filter((after) => after > 0 && after <= stay).sort((a, b) => a - b);
  const found: Seconds[] = [];
  for (const after of moments) {
    if (clocks.every((clock) => waysBack(clock, after) !== null)) found.push(after);
    if (found.length === MOST_MOMENTS) break;
  }
  return found;
}

/** One of each list, those first that are near the front in all of them; at most `most`. */
function leastMovedFirst(lists: readonly (readonly number[])[], most: number): number[][] {
  const found: number[][] = [];
  const choose = (chosen: readonly number[], left: number): void => {
    if (found.length >= most) return;
    const list = lists[chosen.length];
    if (list === undefined) {
      if (left === 0) found.push([...chosen]);
      return;
    }
    const beyond = lists.slice(chosen.length + 1).reduce((sum, { length }) => sum + length - 1, 0);
    for (let i = Math.max(0, left - beyond); i <= Math.min(left, list.length - 1); i++) choose([...chosen, list[i]!], left - i);
  };
  const worst = lists.reduce((sum, { length }) => sum + length - 1, 0);
  for (let rank = 0; rank <= worst && found.length < most; rank++) choose([], rank);
  return found;
}
