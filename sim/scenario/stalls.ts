import { holds } from "../counters/sequence.js";
import { TIMER_CHIPS } from "../parts/chips.js";
import { spoken } from "../parts/prose.js";
import { boardTimes } from "../timers/boardtimes.js";
import { amps as ampsUnit, duration, ohms, volts as voltsUnit } from "../units/quantities.js";
import { plain, spokenDuration } from "../units/text.js";
import type { Scenario } from "../model/scenario.js";

interface Finding {
  readonly board: string;
  readonly message: string;
}

/** Boards whose timer never clocks with nominal values, since the leakage keeps the capacitor below 2/3 of the supply. */
export function findStalls(scenario: Scenario): Finding[] {
  const times = boardTimes(scenario);
  return scenario.boards.flatMap(({ id, timer }, b) => {
    if (timer.kind !== "astable" || Number.isFinite(times[b]!.stepSeconds)) return [];
    const leak = timer.leakage.typical + (timer.chip === null ? 0 : TIMER_CHIPS[timer.chip].threshold);
    const ohmsInAll = timer.ra.value + timer.rb.value + (times[b]!.clockwork?.trimmerOhms ?? 0);
    const most = scenario.supply.volts / 3 / ohmsInAll;
    return [
      {
        board: id,
        message:
          `the timer stalls: ${spoken(ampsUnit, leak)} through ${plain(ohmsInAll / 1e6, 3)} MΩ drops ` +
          `${plain(leak * ohmsInAll, 3)} V, and at ${voltsUnit.format(scenario.supply.volts)} no more than ` +
          `${plain(scenario.supply.volts / 3, 3)} V may be lost (a leakage of ${plain(most * 1e6, 3)} µA at most). ` +
          "What helps: a shorter timer with divide, or a capacitor of low-leakage or film type; " +
          "a larger capacitor does not, since leakage grows with it",
      },
    ];
  });
}

/** Boards whose timer clocks at the room's mean temperature, and stalls at its warmest or coldest. */
export function findStallsOfDay(scenario: Scenario): Finding[] {
  const { mean, swing } = scenario.room;
  return boardTimes(scenario).flatMap(({ stepSeconds, clockwork }, b) => {
    if (clockwork === null || !Number.isFinite(stepSeconds)) return [];
    const theta = [mean + swing, mean - swing].find((at) => clockwork.period(at) === Infinity);
    if (theta === undefined) return [];
    const message =
      `at ${plain(theta, 3)} °C, which the room reaches every day, the timer stalls: the leakage then keeps the capacitor below 2/3 of ` +
      "the supply, and the board stands still; expected a shorter timer with divide, or a capacitor that leaks less";
    return [{ board: scenario.boards[b]!.id, message }];
  });
}

/** Boards whose knob cannot reach the step time it should be set to, with what it does reach. */
export function unreachable(scenario: Scenario): Finding[] {
  const times = boardTimes(scenario);
  return scenario.boards.flatMap(({ id, timer }, b) => {
    const works = times[b]!.clockwork;
    if (timer.kind !== "astable" || timer.trimmer === null || works === null || works.reach === "set") return [];
    // a stalled timer is reported as such
    if (!Number.isFinite(times[b]!.stepSeconds)) return [];
    const { setting } = timer.trimmer;
    if (setting.kind !== "step") return [];
    const end = times[b]!.stepSeconds;
    const side = works.reach === "too-short" ? "longest" : "shortest";
    return [
      {
        board: id,
        message:
          `the knob cannot reach setTo ${duration.format(setting.step)}: the ${side} step with ` +
          `a trimmer of ${ohms.format(timer.trimmer.part.value)} is ${spokenDuration(end)}; choose another time, trimmer or capacitor`,
      },
    ];
  });
}

/** Shortest timer period that whole microseconds still render to half a percent. */
const SHORTEST_PERIOD = 100e-6;

/** Boards with a timer period, or a step held for so small a share of it, that whole microseconds are too coarse for. */
export function findTooShort(scenario: Scenario): Finding[] {
  const times = boardTimes(scenario);
  return scenario.boards.flatMap(({ id, counter }, b) => {
    const works = times[b]!.clockwork;
    if (works === null) return [];
    const hold = Math.min(1, holds(counter).least);
    const period = works.period(scenario.room.mean) * hold;
    if (period >= SHORTEST_PERIOD) return [];
    const held = hold < 1 ? `, held for ${plain(hold, 6)} of it` : "";
    return [
      {
        board: id,
        message:
          `a timer period of ${spokenDuration(works.period(scenario.room.mean))}${held}: time is counted in whole ` +
          `microseconds, so the shortest that can be followed is ${spokenDuration(SHORTEST_PERIOD)}; ` +
          (hold < 1 ? "choose larger factors in hold" : "choose larger timer parts with a smaller divide"),
      },
    ];
  });
}
