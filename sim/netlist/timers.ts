import { TIMER_CHIPS, TIMER_PINS } from "../parts/chips.js";
import type { AstableTimer, PartType, Scenario, Timer } from "../model/scenario.js";
import { duration, farads, ohms } from "../units/quantities.js";
import { carryPin } from "./counters.js";
import { at, lead, part, terminal, type Harness } from "./harness.js";
import type { Device, End } from "./model.js";

/** The timer of a board; for a board that is clocked by another's carry, that board. */
export function timerDevice(timer: Timer, { boards }: Scenario): Device {
  switch (timer.kind) {
    case "astable": {
      const type = timer.chip === null ? "timer of the 555 type" : TIMER_CHIPS[timer.chip].name;
      return { role: "timer", name: "timer", type, pins: TIMER_PINS.map((name, i) => ({ name, number: i + 1 })) };
    }
    case "measured":
    case "quartz": {
      const type = `${timer.kind === "quartz" ? "quartz timer" : "timer as measured"}, a pulse every ${duration.format(timer.step)}`;
      return { role: "timer", name: "timer", type, pins: ["plus", "minus", "output"].map(terminal) };
    }
    case "carry": {
      const { id, counter } = boards[timer.from]!;
      const { name, number } = carryPin(counter);
      return { role: "board", name: `board ${id}`, type: "board that clocks this one", pins: [{ name, number }] };
    }
  }
}

/** The divider between timer and counter; null for a board that has none. */
export function dividerDevice(timer: Timer): Device | null {
  if (timer.kind !== "astable" || timer.divide === 1) return null;
  return { role: "divider", name: "divider", type: `one pulse for every ${timer.divide}`, pins: ["plus", "minus", "input", "output"].map(terminal) };
}

/** Where the timer's pulses come from. */
export function pulseEnd(device: Device, timer: Timer): End {
  if (timer.kind === "carry") return lead(device);
  return at(device, timer.kind === "astable" ? "OUT" : "output");
}

/**
 * The resistors and capacitors of an astable timer of the 555 type, as every data sheet draws them; 10 nF at CONT and
 * RESET tied to plus are common practice, no source.
 */
export function wireAstable(harness: Harness, device: Device, timer: AstableTimer): void {
  const ra = harness.add(part("Ra", ohms.format(timer.ra.value)));
  const rb = harness.add(part("Rb", ohms.format(timer.rb.value)));
  const { trimmer } = timer;
  const knob = trimmer === null ? null : harness.add(part("trimmer", ohms.format(trimmer.part.value), ["start", "wiper"]));
  const c = harness.add(part("C", farads.format(timer.c.value), leadsOf(timer.c.type)));
  const quiet = harness.add(part("C cont", "10 nF"));
  const [disch, thres] = [at(device, "DISCH"), at(device, "THRES")];
  const inSeries = (from: Device, to: End, withKnob: boolean): void => {
    if (withKnob && knob !== null) {
      harness.join(lead(from, 1), lead(knob), "step time");
      harness.join(lead(knob, 1), to, "step time");
    } else {
      harness.join(lead(from, 1), to, "step time");
    }
  };
  harness.fromPlus(at(device, "RESET"), "the timer runs");
  harness.fromPlus(lead(ra), "step time");
  inSeries(ra, disch, trimmer?.in === "ra");
  harness.join(disch, lead(rb), "step time");
  inSeries(rb, thres, trimmer?.in === "rb");
  harness.join(thres, at(device, "TRIG"), "step time");
  harness.join(thres, lead(c), "step time");
  harness.toMinus(lead(c, 1), "step time");
  harness.join(at(device, "CONT"), lead(quiet), "keeps interference out");
  harness.toMinus(lead(quiet, 1), "keeps interference out");
}

/** A capacitor that is not known to be a film capacitor may be one that must not be turned round. */
function leadsOf(type: PartType | null): readonly [string, string] {
  return type === "film" ? ["lead 1", "lead 2"] : ["+", "-"];
}
