import type { Scenario } from "../model/scenario.js";
import type { Trimmer } from "../model/timer.js";
import { stepTimes } from "../steptimes/index.js";
import { NOMINAL } from "../timers/build.js";
import { boardTimes } from "../timers/boardtimes.js";
import { knobOf } from "./settings.js";
import { chooseMarks, roundMarks, type Mark } from "./marks.js";
import { knobScale, stallsFromIn, type KnobScale } from "./scale.js";
import { stopwatch, type Timing } from "./stopwatch.js";
import { extremeBuilds, knobPlace, setBand, stayBand, stepsAt, type SetBand, type Span, type StayBand } from "./tolerance.js";
import type { Seconds } from "../units/time.js";

export { HAND, type Timing } from "./stopwatch.js";
export { DRAWN, type SetBand, type Span, type StayBand } from "./tolerance.js";
export type { KnobScale } from "./scale.js";
export { chooseMarks, roundMarks, type Mark } from "./marks.js";

/** Rows of round step times in the table at most. */
const MOST_ROWS = 8;
/** Rows are no nearer than this share of the travel. */
const FINEST_ROWS = 1 / 60;

/** Everything that is known about setting one knob; seconds, ohms, shares of the knob's travel. */
export interface KnobFigures {
  readonly id: string;
  readonly trimmer: Trimmer;
  readonly scale: KnobScale;
  /** Where nominal parts put the knob, and the step time there. */
  readonly set: { readonly dial: number; readonly seconds: Seconds; readonly firstSeconds: Seconds };
  /** One of the two, as the trimmer's setting is. */
  readonly setBand: SetBand | null;
  readonly stayBand: StayBand | null;
  /** Share of the travel from which on the slowest parts stall; null where they never do. */
  readonly slowStallsFrom: number | null;
  readonly rows: readonly KnobRow[];
  readonly timing: Timing;
  /** Nominal step times over the temperatures of the room; `to` is infinite where the timer stalls at some. */
  readonly room: Span;
  /** The same after the powered hours of the planned run; null without drift. */
  readonly drifted: Span | null;
}

/** One row of the table. */
export interface KnobRow {
  readonly kind: "low end" | "high end" | "set" | "stalls" | "round";
  readonly dial: number;
  /** Nominal step time; infinite where the timer stalls. */
  readonly seconds: Seconds;
  readonly ohms: number;
  /** Step times that parts inside their tolerances give here. */
  readonly steps: Span;
}

/** The figures of board b's knob; null for a board without one. */
export function knobFigures(scenario: Scenario, b: number): KnobFigures | null {
  const timer = knobOf(scenario, b);
  if (timer === null) return null;
  const { id } = scenario.boards[b]!;
  const { setting } = timer.trimmer;
  const { stepSeconds, firstStepSeconds } = boardTimes(scenario)[b]!;
  const scale = knobScale(scenario, b);
  const set = { dial: knobPlace(scenario, b, NOMINAL).dial, seconds: stepSeconds, firstSeconds: firstStepSeconds };
  return {
    id,
    trimmer: timer.trimmer,
    scale,
    set,
    setBand: setBand(scenario, b),
    stayBand: stayBand(scenario, b),
    slowStallsFrom: stallsFromIn(scenario, b, extremeBuilds(scenario, b).slow),
    rows: rows(scenario, b, scale, set),
    timing: stopwatch(scenario, b, setting.kind === "step" ? setting.reading : 0),
    room: roomSteps(scenario, b, 0),
    drifted: timer.drift === 0 ? null : roomSteps(scenario, b, timer.drift),
  };
}

function rows(scenario: Scenario, b: number, scale: KnobScale, set: KnobFigures["set"]): KnobRow[] {
  const row = (kind: KnobRow["kind"], dial: number, seconds: Seconds): KnobRow => ({
    kind,
    dial,
    seconds,
    ohms: scale.ohmsAt(dial),
    steps: stepsAt(scenario, b, dial),
  });
  const marked = roundRows(scale).map(({ dial, seconds }) => row("round", dial, seconds));
  const ends = [row("low end", 0, scale.least), row("high end", 1, scale.stepAt(1))];
  const stall = scale.stallsFrom === null || scale.stallsFrom >= 1 ? [] : [row("stalls", scale.stallsFrom, Infinity)];
  const own = row("set", set.dial, set.seconds);
  // a place that has two names is the set mark first, then an end
  const named = [own, ...[...ends, ...stall].filter(({ dial }) => dial !== own.dial)];
  const others = marked.filter(({ dial }) => named.every((one) => Math.abs(one.dial - dial) > 1e-9));
  return [...named, ...others].sort((one, other) => one.dial - other.dial);
}

/** As many round step times as the table holds. */
function roundRows(scale: KnobScale): Mark[] {
  const groups = roundMarks(scale, FINEST_ROWS);
  for (let gap = FINEST_ROWS; ; gap *= 1.1) {
    const chosen = chooseMarks(groups, 2.5 * gap, (mark, others) => others.every(({ dial }) => Math.abs(dial - mark.dial) >= gap));
    if (chosen.length <= MOST_ROWS) return chosen;
  }
}

/** The nominal build's plain steps over the temperatures of the room, from no powered hours to those of the run. */
function roomSteps(scenario: Scenario, b: number, drift: number): Span {
  const board = scenario.boards[b]!;
  const plain = { ...board, counter: { kind: "ring" as const, steps: 2, powerUp: "reset" as const }, timer: { ...knobOf(scenario, b)!, drift } };
  const { shortest, longest } = stepTimes({ ...scenario, boards: [plain] })(NOMINAL)[0]!;
  return { from: shortest.seconds, to: longest.seconds };
}
