import type { Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";
import { ClosedForm } from "./closed.js";
import { promisedSteps, valuesIn, type Knob } from "./knobs.js";
import type { Seconds } from "../units/time.js";

/** A built board without a knob in the scenario, of which another step time would help. */
export interface MeasuredAdvice {
  readonly id: string;
  readonly stepSeconds: Seconds;
  /** The step time that would help most. */
  readonly betterSeconds: Seconds;
  /** Mean repeat share over the return times by the closed form, as it is and with the better step. */
  readonly score: number;
  readonly betterScore: number;
}

/** Where nothing is promised, a measured board might be changed by so much of its step. */
const CHANGE = 0.2;
/** A change that lowers the score by less than this share is not worth the iron. */
const WORTHWHILE = 0.05;

/** What another step time of each `measured` board would do, with all else as the scenario has it. */
export function adviseMeasured(scenario: Scenario, times: readonly number[]): MeasuredAdvice[] {
  const promised = promisedSteps(scenario);
  const now = boardTimes(scenario);
  return scenario.boards.flatMap(({ id, timer }, board): MeasuredAdvice[] => {
    if (timer.kind !== "measured") return [];
    const { stepSeconds } = now[board]!;
    const range = {
      from: promised.from > 0 ? promised.from : stepSeconds * (1 - CHANGE),
      to: Number.isFinite(promised.to) ? promised.to : stepSeconds * (1 + CHANGE),
    };
    if (range.from > range.to) return [];
    const knob: Knob = { board, id, range, paced: false, reading: timer.reading, values: valuesIn(range) };
    const closed = new ClosedForm(scenario, [knob], times);
    const score = closed.score([stepSeconds]);
    const scores = knob.values.map((value) => closed.score([value]));
    const betterScore = Math.min(...scores);
    if (betterScore > score * (1 - WORTHWHILE)) return [];
    return [{ id, stepSeconds, betterSeconds: knob.values[scores.indexOf(betterScore)]!, score, betterScore }];
  });
}
