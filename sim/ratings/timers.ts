import { SMALLEST_RA, TIMER_CHIPS, type TimerChip } from "../parts/chips.js";
import { endResistance } from "../parts/preferred.js";
import type { Scenario, Supply } from "../model/scenario.js";
import type { AstableTimer, Part } from "../model/timer.js";
import { boardTimes } from "../timers/boardtimes.js";
import { timerBudget } from "./leakage.js";
import { atLightLoad } from "./lightload.js";
import { atLeast, atMost, between, type Rating } from "./rating.js";

/** Ratings of every RC timer; those of the chip only where the scenario says which chip it is. */
export function timerRatings(scenario: Scenario): Rating[] {
  const times = boardTimes(scenario);
  return scenario.boards.flatMap(({ id, timer }, b) => {
    if (timer.kind !== "astable") return [];
    const trimmerOhms = times[b]!.clockwork?.trimmerOhms ?? 0;
    const { supply } = scenario;
    const { volts } = supply;
    return [
      ...chipRatings(id, timer, supply),
      ...capacitorRatings(id, timer, volts),
      ...leakageRatings(id, timer, trimmerOhms, volts),
    ];
  });
}


function chipRatings(where: string, timer: AstableTimer, supply: Supply): Rating[] {
  if (timer.chip === null) return [];
  const { volts } = supply;
  const chip = TIMER_CHIPS[timer.chip];
  const { least, most: highest, destroys, source, destroysSource } = chip.supply;
  const most = atLightLoad(supply);
  const resistance = chip.largestResistance(volts);
  return [
    between({ what: "timer supply", where, value: volts, unit: "V", source,
      advice: `run the timer at ${least} to ${highest} V` }, least, highest),
    atMost({
      what: "timer supply, absolute maximum",
      where,
      value: most.volts,
      limit: destroys,
      unit: "V",
      source: `${destroysSource}${most.because}`,
      advice: "beyond it the chip is destroyed: lower the supply, regulate it, or name a chip that bears more (chip: ICM7555)",
    }),
    dischargeRating(where, timer, volts, chip),
    atLeast({
      what: "timer RA, least value",
      where,
      value: timer.ra.value * (1 - timer.ra.minus),
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

/**
 * What the chip's discharge pin has to take with resistors at their least and the knob where rb is least: the capacitor at
 * two thirds of the supply through rb, and the supply through ra.
 */
function dischargeRating(where: string, timer: AstableTimer, volts: number, { discharge }: TimerChip): Rating {
  const least = ({ value, minus }: Part): number => value * (1 - minus);
  const end = timer.trimmer === null ? 0 : endResistance(least(timer.trimmer.part));
  const inRb = timer.trimmer?.in === "rb" ? end : 0;
  const inRa = timer.trimmer?.in === "ra" ? end : 0;
  return atMost({
    what: "discharge pin",
    where,
    value: (2 * volts) / 3 / (least(timer.rb) + inRb) + volts / (least(timer.ra) + inRa),
    limit: discharge.most,
    unit: "A",
    source: discharge.source,
    advice: "take a larger rb and ra (and a smaller capacitor)",
  });
}

/** The capacitor's working voltage: it charges to two thirds of the supply, and to all of it when the chip is pulled. */
function capacitorRatings(where: string, { c }: AstableTimer, volts: number): Rating[] {
  if (c.volts === null) return [];
  return [
    atMost({
      what: "capacitor voltage",
      where,
      value: volts,
      limit: c.volts,
      unit: "V",
      source: "working voltage as given; in use it gets two thirds of the supply, and all of it with the timer out of its socket",
      advice: "take a capacitor for a higher voltage",
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
