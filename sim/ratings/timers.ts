import { SMALLEST_RA, TIMER_CHIPS } from "../parts/chips.js";
import type { AstableTimer, Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";
import { timerBudget } from "./leakage.js";
import { atLeast, atMost, between, type Rating } from "./rating.js";

/** Ratings of every RC timer; those of the chip only where the scenario says which chip it is. */
export function timerRatings(scenario: Scenario): Rating[] {
  const times = boardTimes(scenario);
  return scenario.boards.flatMap(({ id, timer }, b) => {
    if (timer.kind !== "astable") return [];
    const trimmerOhms = times[b]!.clockwork?.trimmerOhms ?? 0;
    const { volts } = scenario.supply;
    return [...chipRatings(id, timer, volts), ...leakageRatings(id, timer, trimmerOhms, volts)];
  });
}

function chipRatings(where: string, timer: AstableTimer, volts: number): Rating[] {
  if (timer.chip === null) return [];
  const chip = TIMER_CHIPS[timer.chip];
  const { least, most, source } = chip.supply;
  const resistance = chip.largestResistance(volts);
  return [
    between({ what: "timer supply", where, value: volts, unit: "V", source, advice: `run the timer at ${least} to ${most} V` }, least, most),
    atLeast({
      what: "timer RA",
      where,
      value: timer.ra.value,
      limit: SMALLEST_RA.value,
      unit: "Ω",
      source: SMALLEST_RA.source,
      advice: "take a larger ra (and a smaller capacitor)",
    }),
    atMost({
      what: "timer RA + RB",
      where,
      value: timer.ra.value + timer.rb.value + (timer.trimmer?.part.value ?? 0),
      limit: resistance.value,
      unit: "Ω",
      source: resistance.source,
      advice: "take smaller resistors and a larger capacitor, or a shorter timer with divide",
    }),
  ];
}

/** How near the capacitor's leakage brings the timer to a wrong step time, and to a stall. */
function leakageRatings(where: string, timer: AstableTimer, trimmerOhms: number, volts: number): Rating[] {
  const leakage = timer.leakage.limit ?? timer.leakage.typical;
  const threshold = timer.chip === null ? 0 : TIMER_CHIPS[timer.chip].thresholdLimit.value;
  const r1 = timer.ra.value + timer.rb.value + trimmerOhms;
  const advice = "measure the capacitor, take one of low-leakage or film type, or a shorter timer with divide";
  const stall = atLeast({
    what: "timer stall margin",
    where,
    value: volts - (leakage + threshold) * r1,
    limit: (2 * volts) / 3,
    unit: "V",
    source:
      "two thirds of the supply, at which the timer clocks; the value is where the capacitor would end with the largest " +
      "leakage given and the chip's largest threshold current",
    advice,
  });
  if (!timer.leakage.given) return [stall];
  const budget = atMost({
    what: "capacitor leakage",
    where,
    value: leakage,
    limit: timerBudget(timer, trimmerOhms, volts).within5Percent,
    unit: "A",
    source: "largest leakage at which a step is at most 5 % longer than without leakage",
    advice,
  });
  return [stall, budget];
}
