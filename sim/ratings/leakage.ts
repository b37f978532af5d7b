import { bisected } from "../statistics/bisection.js";
import { publishedLeakage, usualRatedVolts, type CapacitorType } from "../parts/leakage.js";
import { spoken } from "../parts/prose.js";
import { TIMER_CHIPS } from "../parts/chips.js";
import type { Scenario } from "../model/scenario.js";
import type { AstableTimer, Part } from "../model/timer.js";
import { highTime, lowTime } from "../timers/astable.js";
import { boardTimes } from "../timers/boardtimes.js";
import { amps, farads, ohms, volts as voltsUnit } from "../units/quantities.js";
import { spokenDuration } from "../units/text.js";
import type { Note } from "./note.js";

/** How much leakage a timing capacitor may have, ampere. */
export interface LeakageBudget {
  /** Largest leakage at which a step is no more than 5 % longer than without leakage. */
  readonly within5Percent: number;
  /** The leakage from which on the timer stalls: a third of the supply lost in R1. */
  readonly stall: number;
}

/** Allowed lengthening of the step time. */
const LENGTHENING = 1.05;

/**
 * The leakage budget of an astable timer that charges through r1 and discharges through r2 ohms, at a supply in volts;
 * `threshold` is the current into the chip's threshold pin, ampere, which flows besides. The capacitance does not
 * matter: it stretches all times alike. Leakage lengthens the charging more than it shortens the discharging (r1 ≥ r2), so
 * that the step time rises with it all the way up to the stall.
 */
export function leakageBudget(volts: number, r1: number, r2: number, threshold: number): LeakageBudget {
  const stall = Math.max(0, volts / 3 / r1 - threshold);
  const period = (leak: number): number => highTime(volts, r1, 1, leak + threshold) + lowTime(volts, r2, 1, leak + threshold);
  const longest = LENGTHENING * period(0);
  return { within5Percent: bisected((leak) => period(leak) <= longest, 0, stall).last, stall };
}

/** The leakage budget of a board's timer at the knob position of the nominal build. */
export function timerBudget(timer: AstableTimer, trimmerOhms: number, volts: number): LeakageBudget {
  const threshold = timer.chip === null ? 0 : TIMER_CHIPS[timer.chip].threshold;
  const r2 = timer.rb.value + (timer.trimmer?.in === "rb" ? trimmerOhms : 0);
  return leakageBudget(volts, timer.ra.value + timer.rb.value + trimmerOhms, r2, threshold);
}

/** Capacitors below this, farad, are bought as film or ceramic, whose leakage is nothing here. */
const LEAKY_FROM = 10e-6;

/** For every timing capacitor of 10 µF or more whose leakage nobody gave: its budget, the published limit, how to measure it. */
export function leakageNotes(scenario: Scenario): Note[] {
  const times = boardTimes(scenario);
  return scenario.boards.flatMap(({ id, timer }, b) => {
    if (timer.kind !== "astable" || timer.leakage.given || timer.c.value < LEAKY_FROM) return [];
    const { volts } = scenario.supply;
    const budget = timerBudget(timer, times[b]!.clockwork?.trimmerOhms ?? 0, volts);
    const lines = [
      `The leakage of the ${spoken(farads, timer.c.value)} capacitor is not given, and taken as none.`,
      `Steps stay within 5 % of their length up to ${spoken(amps, budget.within5Percent)}; at ${spoken(amps, budget.stall)} the ` +
        "timer stalls.",
      publishedLimit(timer.c, volts),
      howToMeasure(timer.c.value, budget.within5Percent, volts),
    ];
    return [{ where: id, text: lines.join(" ") }];
  });
}

function publishedLimit(c: Part, volts: number): string {
  const type: CapacitorType = c.type === null || c.type === "carbon" || c.type === "metal" ? "electrolytic" : c.type;
  const rated = usualRatedVolts(volts);
  const { amps: limit, rule, source } = publishedLeakage(type, c.value, rated);
  const kind = c.type === null ? "a plain electrolytic (the scenario gives no type)" : `type ${type}`;
  return (
    `The published limit for ${kind} is ${spoken(amps, limit)}: ${rule} (${source}); rated voltage taken as ` +
    `${rated} V, the next usual one above ${voltsUnit.format(volts)}. Settled parts leak far less.`
  );
}

/** The settled current through a resistor in series with the capacitor is its leakage; a voltmeter shows it as volts. */
function howToMeasure(c: number, budget: number, volts: number): string {
  // 10 mV or more to read; the usual meter of 10 MΩ beside 100 kΩ reads 1 % low
  const resistor = budget >= 1e-7 ? 100e3 : 1e6;
  const wait = Math.max(600, 5 * resistor * c);
  return (
    `To measure it: capacitor and ${ohms.format(resistor)} in series across ${voltsUnit.format(volts)}, plus of the capacitor to the ` +
      "resistor; " +
    `bridge the resistor with a wire for a minute, wait ${spokenDuration(wait)} without the wire, and read the voltage across the ` +
      "resistor: " +
    `${spoken(voltsUnit, budget * resistor)} is ${spoken(amps, budget)}. Then give the capacitor a leakage.`
  );
}
