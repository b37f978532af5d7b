import { wire } from "../engine/wiring.js";
import { ECHO_SHARE, type Echo } from "../figures/repeat.js";
import type { Scenario } from "../model/scenario.js";
import { percent, spokenDuration, toTheSecond } from "../units/text.js";
import { cyclicBoards, type CyclicBoard } from "./pairs.js";
import { apartToVanish, stepsApart, togetherShare, type StepRange } from "./together.js";
import { type Seconds, toMicros, toSeconds } from "../units/time.js";

/** Nearer than this rounds end together, for all that anybody sees. */
const TOGETHER: Seconds = 0.5;

/** A return time after which the same scene is met too often. */
export interface EchoAdvice {
  readonly kind: "echo";
  readonly text: string;
  readonly afterSeconds: Seconds;
  readonly share: number;
  /** The two boards that come back together then and are the easiest to move apart; null when no two of them do. */
  readonly pair: CommonReturn | null;
}

/** Two boards that come round at nearly the same time. */
export interface CommonReturn {
  readonly boards: readonly [ReturningBoard, ReturningBoard];
  /** How far apart their rounds are, and how far they would have to be for the echo to vanish. */
  readonly apartSeconds: Seconds;
  readonly neededSeconds: Seconds;
  /** The most of the time that both are back, whatever the other boards do. */
  readonly share: number;
}

/** A board in a common return: how many rounds it goes meanwhile, and which step times would end the echo. */
export interface ReturningBoard {
  readonly id: string;
  readonly rounds: number;
  /** The board whose step time would have to change: itself, or the one whose carry clocks it. */
  readonly clock: string;
  readonly clockStepSeconds: Seconds;
  /** Step times of that board with which the echo vanishes, all others left as they are. */
  readonly vanishes: StepRange;
}

/** The whole display comes round together, because one timer clocks every board. */
export interface OneClockAdvice {
  readonly kind: "one-clock";
  readonly text: string;
  readonly board: string;
  readonly afterSeconds: Seconds;
}

/**
 * What to do about the echoes of a display. Of the echoes that come of one pair of boards only the first is named: the
 * others follow from it, at its multiples and where these have run apart by a whole round.
 * The rule: two boards that come round must do so at least a + b − √(a·b) apart, a and b being their steps; for equal
 * steps that is one step, and a longer step is always enough. {@link apartToVanish} has the rest of it.
 */
export function echoAdvice(scenario: Scenario, echoes: readonly Echo[]): (EchoAdvice | OneClockAdvice)[] {
  // A board that only clocks others, or always lights the same houses, makes no difference to what is seen
  const seen = new Set(wire(scenario).flatMap(({ patterns }, b) => (patterns.length > 1 ? [scenario.boards[b]!.id] : [])));
  const boards = cyclicBoards(scenario).filter(({ id }) => seen.has(id));
  const clocks = new Set(boards.map(({ clock }) => clock));
  if (echoes.length > 0 && boards.length === seen.size && clocks.size === 1) return [oneClock([...clocks][0]!, echoes[0]!)];
  const known = new Set<string | undefined>();
  return echoes.flatMap((echo): EchoAdvice[] => {
    const pair = easiestPair(boards.filter((board) => isBack(board, echo.afterSeconds)), echo.afterSeconds);
    const cause = JSON.stringify(pair?.boards.map(({ id }) => id));
    if (known.has(cause)) return [];
    known.add(cause);
    return [{ kind: "echo", ...echo, pair, text: echoText(echo, pair) }];
  });
}

function oneClock(board: string, { afterSeconds, share }: Echo): OneClockAdvice {
  return {
    kind: "one-clock",
    board,
    afterSeconds,
    text:
      `${meets(afterSeconds, share)} Every board hangs on the timer of ${board}, so they always come round together: ` +
      `a second board with a timer of its own would change that.`,
  };
}

function rounds({ cycleSeconds }: CyclicBoard, seconds: Seconds): number {
  return Math.round(seconds / cycleSeconds);
}

/** Whether a board has come round and is, for part of the time, at the step where it was. */
function isBack(board: CyclicBoard, seconds: Seconds): boolean {
  const n = rounds(board, seconds);
  return n >= 1 && Math.abs(seconds - n * board.cycleSeconds) < board.stepSeconds;
}

/**
 * The pair of boards with different clocks, close enough for an echo, of which one need change its step by the
 * smallest share. Not a board whose rounds are so close to each other that one of them always falls near the other's.
 */
function easiestPair(boards: readonly CyclicBoard[], seconds: Seconds): CommonReturn | null {
  const pairs = boards.flatMap((a, i) =>
    boards.slice(i + 1).flatMap((b) => (a.clock === b.clock || !avoidable(a, b) ? [] : [commonReturn(a, b, seconds)])),
  );
  return pairs
    .filter(({ share }) => share >= ECHO_SHARE)
    .reduce<CommonReturn | null>((best, pair) => (best !== null && leastChange(best) <= leastChange(pair) ? best : pair), null);
}

function avoidable(a: CyclicBoard, b: CyclicBoard): boolean {
  return apartToVanish(a.stepSeconds, b.stepSeconds) <= Math.min(a.cycleSeconds, b.cycleSeconds) / 2;
}

function commonReturn(a: CyclicBoard, b: CyclicBoard, seconds: Seconds): CommonReturn {
  const apartSeconds = toSeconds(toMicros(Math.abs(roundOf(a, seconds) - roundOf(b, seconds))));
  return {
    boards: [returning(a, b, seconds), returning(b, a, seconds)],
    apartSeconds,
    neededSeconds: apartToVanish(a.stepSeconds, b.stepSeconds),
    share: togetherShare(a.stepSeconds, b.stepSeconds, apartSeconds),
  };
}

function returning(board: CyclicBoard, other: CyclicBoard, seconds: Seconds): ReturningBoard {
  const { id, stepSeconds, clock, clockStepSeconds } = board;
  const { atMost, atLeast } = stepsApart(roundOf(board, seconds) / stepSeconds, other.stepSeconds, roundOf(other, seconds));
  const scale = clockStepSeconds / stepSeconds;
  return {
    id,
    rounds: rounds(board, seconds),
    clock,
    clockStepSeconds,
    vanishes: { atMost: atMost * scale, atLeast: atLeast * scale },
  };
}

/** The end of the round that is nearest to that moment. */
function roundOf(board: CyclicBoard, seconds: Seconds): number {
  return rounds(board, seconds) * board.cycleSeconds;
}

function changeOf({ clockStepSeconds, vanishes }: ReturningBoard): number {
  return Math.min(vanishes.atLeast / clockStepSeconds - 1, 1 - vanishes.atMost / clockStepSeconds);
}

function leastChange({ boards: [a, b] }: CommonReturn): number {
  return Math.min(changeOf(a), changeOf(b));
}

function echoText({ afterSeconds, share }: Echo, pair: CommonReturn | null): string {
  if (pair === null) return meets(afterSeconds, share);
  const [a, b] = pair.boards;
  return (
    `${meets(afterSeconds, share)} Then ${inRounds(a)} and ${inRounds(b)} end ${pair.apartSeconds < TOGETHER ? "together" : `${spokenDuration(pair.apartSeconds)} apart`}. ` +
    `For this echo to vanish they would have to end ${spokenDuration(pair.neededSeconds)} apart.`
  );
}

function meets(afterSeconds: Seconds, share: number): string {
  return `A visitor who comes back after ${toTheSecond(afterSeconds)} meets the same scene ${percent(share)} of the time.`;
}

function inRounds({ id, rounds: n }: ReturningBoard): string {
  return n === 1 ? `one round of ${id}` : `${n} rounds of ${id}`;
}
