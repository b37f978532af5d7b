import { mean } from "d3-array";
import type { SceneRecord } from "../engine/record.js";
import { simulate } from "../engine/simulate.js";
import { repeatCurve, worstEcho } from "../figures/repeat.js";
import { timeline } from "../figures/timeline.js";
import { boardAtStep, knobOf, nominalReach } from "../knob/settings.js";
import type { Board, Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";
import { listed, percent, spokenDuration } from "../units/text.js";
import type { Seconds } from "../units/time.js";

/** A figure of the display as it is, and as it would be. */
export interface Change {
  readonly before: number;
  readonly after: number;
}

/** A step time that lowers the whole curve of returns: its highest point after the first fall, and its mean, up to 3 h. */
export interface OtherStepAdvice {
  readonly kind: "other-step";
  readonly text: string;
  readonly board: string;
  readonly stepSeconds: Seconds;
  readonly worst: Change;
  readonly mean: Change;
}

/** No other step time of the boards that come round together helps. */
export interface NoOtherStepAdvice {
  readonly kind: "no-other-step";
  readonly text: string;
  readonly boards: readonly string[];
}

/** Step times tried for a board, and between which shares of today's. */
const TRIED = 16;
const QUICKEST = 0.7;
const SLOWEST = 1.4;
/** A change is worth naming when it takes a tenth off the worst return at least. Judgement, no source. */
const WORTH = 0.9;
/** Scores closer together than this nobody tells apart; the step nearer to today's is taken. */
const ALIKE = 0.005;
/** Spells looked at for each step time tried, so that it takes a fraction of a second. */
const MOST_SPELLS = 2000;

interface Curve {
  readonly worst: number;
  readonly mean: number;
}

/**
 * Which step time of these boards would make the display repeat less, found by simulating it with other ones: the worst
 * return within 3 h must fall clearly and the mean must not rise. Nothing for no boards, and where one opening is too long
 * to be simulated so often.
 */
export function otherStepAdvice(record: SceneRecord, boards: readonly string[]): (OtherStepAdvice | NoOtherStepAdvice)[] {
  const { scenario, build, openings } = record;
  const run = Math.min(openings.length, Math.floor((MOST_SPELLS * openings.length) / record.spellStart.length));
  if (run === 0 || boards.length === 0) return [];
  const some: Scenario = { ...scenario, opening: { ...scenario.opening, run } };
  const judged = (changed: Scenario): Curve => curveOf(simulate(changed, { build }));
  const before = judged(some);
  const found = boards.flatMap((id) => {
    const b = scenario.boards.findIndex((board) => board.id === id);
    return stepsFor(scenario, b).map((step) => ({ id, ...step, curve: judged(withStep(some, b, step.seconds)) }));
  });
  const better = found.filter(({ curve }) => curve.worst <= WORTH * before.worst && curve.mean <= before.mean);
  const least = Math.min(...better.map(({ curve }) => curve.worst + curve.mean));
  const [best] = better
    .filter(({ curve }) => curve.worst + curve.mean <= least + ALIKE)
    .sort((a, b) => Math.abs(Math.log(a.ratio)) - Math.abs(Math.log(b.ratio)));
  if (best === undefined) {
    return [
      {
        kind: "no-other-step",
        boards,
        text:
          `No step time of ${listed(boards, "or")} near today's makes the worst return within 3 h rarer. A board more with a timer ` +
          `of its own would${scenario.opening.overnight ? "" : ", or running through the night"}, or counters with other numbers of steps.`,
      },
    ];
  }
  const worst = { before: before.worst, after: best.curve.worst };
  const average = { before: before.mean, after: best.curve.mean };
  return [
    {
      kind: "other-step",
      board: best.id,
      stepSeconds: best.seconds,
      worst,
      mean: average,
      text:
        `With the step of ${best.id} at ${spokenDuration(best.seconds)} the worst return within 3 h, after the picture has first ` +
        `changed, is ${percent(worst.after)} instead of ${percent(worst.before)}, the mean ${percent(average.after)} instead of ` +
        `${percent(average.before)} (simulated, nominal parts).`,
    },
  ];
}

function curveOf(record: SceneRecord): Curve {
  const shares = repeatCurve(timeline(record)).flatMap(({ share }) => (share === null ? [] : [share]));
  return { worst: worstEcho(shares), mean: mean(shares) ?? 0 };
}

/** The step times that are tried for a board, as one would set them, with their ratio to today's. */
function stepsFor(scenario: Scenario, b: number): { seconds: Seconds; ratio: number }[] {
  const today = boardTimes(scenario)[b]!.stepSeconds;
  const { from, to } = knobOf(scenario, b) === null ? { from: 0, to: Infinity } : nominalReach(scenario, b);
  const all = Array.from({ length: TRIED }, (_, i) => rounded(today * QUICKEST * (SLOWEST / QUICKEST) ** (i / (TRIED - 1))));
  return [...new Set(all)].filter((seconds) => seconds >= from && seconds <= to && seconds !== today).map((seconds) => ({ seconds, ratio: seconds / today }));
}

function rounded(seconds: number): Seconds {
  return seconds >= 20 ? Math.round(seconds) : Number(seconds.toPrecision(3));
}

/** The scenario with the nominal step of a board changed: as it can be set, or else by another capacitor. */
function withStep(scenario: Scenario, b: number, step: Seconds): Scenario {
  const board = scenario.boards[b]!;
  const set = boardAtStep(board, step) ?? withCapacitor(board, step / boardTimes(scenario)[b]!.stepSeconds);
  return { ...scenario, boards: scenario.boards.with(b, set) };
}

/** The board with so many times the timing capacitor, and with that its step. */
function withCapacitor(board: Board, ratio: number): Board {
  const { timer } = board;
  return timer.kind === "astable" ? { ...board, timer: { ...timer, c: { ...timer.c, value: timer.c.value * ratio } } } : board;
}
