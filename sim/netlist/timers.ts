import { TIMER_CHIPS, TIMER_PINS } from "../parts/chips.js";
import { usualRatedVolts } from "../parts/leakage.js";
import { dividerFor } from "../parts/logic.js";
import type { AstableTimer, Capacitor, PartType, Timer } from "../model/timer.js";
import { duration, farads, ohms } from "../units/quantities.js";
import { at, chipGoods, lead, terminal, type Harness } from "./harness.js";
import type { Device, End, Goods } from "./model.js";

/** From this size on a capacitor holds enough to force a harmful current into the inputs of a CMOS timer, farad. */
const GUARD_FROM = 10e-6;
/** Between capacitor and inputs, ohms: 1 to 10 kΩ do. */
const GUARD_OHMS = 4.7e3;

/** True for a timer whose inputs are kept off a large capacitor by a resistor. */
export const isGuarded = ({ chip, c }: AstableTimer): boolean => chip !== "bipolar" && c.value >= GUARD_FROM;

/** The timer of a board, fed; null for a board that is clocked by another's carry. */
export function addTimer(harness: Harness, timer: Timer): Device | null {
  switch (timer.kind) {
    case "astable": {
      const type = timer.chip === null ? "timer of the 555 type" : TIMER_CHIPS[timer.chip].name;
      const value = timer.chip === null || timer.chip === "bipolar" ? "555" : timer.chip === "cmos" ? "7555 (CMOS 555)" : timer.chip;
      const pins = TIMER_PINS.map((name, i) => ({ name, number: i + 1 }));
      const device = harness.add({ role: "timer", name: "timer", type, pins, goods: chipGoods(value, 8) });
      harness.feed(device, "VCC", "GND");
      return device;
    }
    case "measured":
    case "quartz": {
      const every = `a pulse every ${duration.format(timer.step)}`;
      const type = timer.kind === "quartz" ? `programmed controller with a quartz: ${every}` : `as built and measured: ${every}`;
      const goods: Goods[] = timer.kind === "quartz" ? [{ what: "chip", value: "programmed controller with quartz", rating: null, count: 1 }] : [];
      const device = harness.add({ role: "timer", name: "timer", type, pins: ["plus", "minus", "output"].map(terminal), goods });
      harness.feed(device, "plus", "minus");
      return device;
    }
    case "carry":
      return null;
  }
}

/** A divider between timer and counter, and its terminals. */
export interface Divider {
  readonly input: End;
  readonly output: End;
  /** Null for one that is programmed. */
  readonly reset: End | null;
  readonly remarks: readonly string[];
}

/** Adds the divider of a timer; null where it has none. */
export function addDivider(harness: Harness, timer: Timer): Divider | null {
  if (timer.kind !== "astable" || timer.divide === 1) return null;
  const known = dividerFor(timer.divide);
  if (known === null) {
    const device = harness.add({
      role: "divider",
      name: "divider",
      type: `programmed divider by ${timer.divide}`,
      pins: ["plus", "minus", "input", "output"].map(terminal),
      goods: [{ what: "chip", value: `programmed divider by ${timer.divide}`, rating: null, count: 1 }],
    });
    harness.feed(device, "plus", "minus");
    const missing =
      `Missing chip: a divider by ${timer.divide}, which the 4020, 4040 and 4060 types are not (they divide by powers of two). A ` +
        "programmed " +
      "controller does it: it counts falling edges, and its output falls at every last one. It begins anew at every switch-on.";
    return { input: at(device, "input"), output: at(device, "output"), reset: null, remarks: [missing] };
  }
  const { chip, output, others } = known;
  const device = harness.chip("divider", "divider", chip);
  return {
    input: at(device, "CLOCK"),
    output: at(device, output),
    reset: at(device, "RESET"),
    remarks: [
      `The divider counts falling edges, and its ${output} falls at every ${timer.divide}th; that falling edge steps the counter.` +
        (others.length === 0 ? "" : ` A ${others.join(" or ")} type does it too, with other pins: its own CLOCK, RESET and ${output}.`),
    ],
  };
}

/**
 * The resistors and capacitors of an astable timer of the 555 type, as every data sheet draws them; 10 nF at CONT and
 * RESET tied to plus are common practice, no source. A large capacitor reaches the inputs of a CMOS timer through a
 * resistor only: beyond V+ + 0.3 V they may latch up (Intersil ICM7555, absolute maximum ratings, note 1).
 */
export function wireAstable(harness: Harness, device: Device, timer: AstableTimer, volts: number): void {
  const ra = harness.part("Ra", ohms.format(timer.ra.value), LEADS, [resistorGoods(timer.ra)]);
  const rb = harness.part("Rb", ohms.format(timer.rb.value), LEADS, [resistorGoods(timer.rb)]);
  const { trimmer } = timer;
  const knob =
    trimmer === null
      ? null
      : harness.part("trimmer", ohms.format(trimmer.part.value), ["start", "wiper"], [
          { what: "trimmer", value: ohms.format(trimmer.part.value), rating: trimmer.taper === "log" ? "logarithmic" : "linear", count: 1 },
        ]);
  const c = harness.part("C", farads.format(timer.c.value), leadsOf(timer.c.type), [capacitorGoods(timer.c, volts)]);
  const quiet = harness.capacitor("C cont", 10e-9);
  const [disch, thres] = [at(device, "DISCH"), at(device, "THRES")];
  const guarded = isGuarded(timer);
  const top = guarded ? lead(c) : thres;
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
  inSeries(rb, top, trimmer?.in === "rb");
  if (guarded) {
    const guard = harness.resistor("R guard", GUARD_OHMS);
    harness.join(lead(c), lead(guard), "protects the timer's inputs");
    harness.join(lead(guard, 1), thres, "protects the timer's inputs");
  } else {
    harness.join(thres, lead(c), "step time");
  }
  harness.join(thres, at(device, "TRIG"), "step time");
  if (timer.discharge === "diode") {
    const empties = harness.diode("D empty");
    harness.join(lead(c), lead(empties), "empties C when the supply goes");
    harness.join(lead(empties, 1), lead(harness.plus), "empties C when the supply goes");
  }
  harness.toMinus(lead(c, 1), "step time");
  harness.join(at(device, "CONT"), lead(quiet), "keeps interference out");
  harness.toMinus(lead(quiet, 1), "keeps interference out");
}

const LEADS = ["lead 1", "lead 2"] as const;

/** A capacitor that is not known to be a film capacitor may be one that must not be turned round. */
function leadsOf(type: PartType | null): readonly [string, string] {
  return type === "film" ? ["lead 1", "lead 2"] : ["+", "-"];
}

function resistorGoods({ value, type, plus }: AstableTimer["ra"]): Goods {
  const tolerance = plus === 0 ? "" : `, ±${Number((plus * 100).toPrecision(3))} %`;
  return { what: "resistor", value: ohms.format(value), rating: `0.25 W${type === null ? "" : `, ${type}`}${tolerance}`, count: 1 };
}

function capacitorGoods(c: Capacitor, supply: number): Goods {
  const kind = c.type ?? (c.value >= 1e-6 ? "low leakage" : "film");
  return { what: "capacitor", value: farads.format(c.value), rating: `${c.volts ?? usualRatedVolts(supply)} V, ${kind}`, count: 1 };
}
