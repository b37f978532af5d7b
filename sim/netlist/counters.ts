import { DECADE_COUNTER } from "../parts/counters.js";
import { sequence } from "../counters/sequence.js";
import type { Board, Counter } from "../model/scenario.js";
import { at, lead, part, terminal, type Harness } from "./harness.js";
import type { Device, Pin } from "./model.js";

const { outputs: OUTPUT_PINS, pins: PINS } = DECADE_COUNTER;

/** Rings of up to ten steps are one decade counter; any other counter is a block whose pins its data sheet has to give. */
export function isDecade(counter: Counter): counter is Extract<Counter, { kind: "ring" }> {
  return counter.kind === "ring" && counter.steps <= OUTPUT_PINS.length;
}

const decadePins: readonly Pin[] = [
  ...OUTPUT_PINS.map((number, output) => ({ name: `Q${output}`, number })),
  { name: "CARRY", number: PINS.carry },
  { name: "INHIBIT", number: PINS.inhibit },
  { name: "CLOCK", number: PINS.clock },
  { name: "RESET", number: PINS.reset },
  { name: "VSS", number: PINS.ground },
  { name: "VDD", number: PINS.supply },
];

export const clockPin = (counter: Counter): Pin =>
  isDecade(counter) ? { name: "CLOCK", number: PINS.clock } : terminal("clock");

export const outputName = (counter: Counter, output: number): string => (isDecade(counter) ? `Q${output}` : `output ${output}`);

/**
 * The terminal that rises as the counter comes back to its first step: the carry of a full decade counter (it rises from
 * 9 to 0), output 0 of any other ring; elsewhere whatever its data sheet offers.
 */
export function carryPin(counter: Counter): Pin {
  if (counter.kind !== "ring") return terminal("carry");
  if (counter.steps === OUTPUT_PINS.length) return { name: "CARRY", number: PINS.carry };
  return { name: outputName(counter, 0), number: isDecade(counter) ? OUTPUT_PINS[0]! : null };
}

/** The counter of a board, with the outputs that are used. */
export function counterDevice({ counter, outputs }: Board, carries: boolean): Device {
  const { steps } = sequence(counter);
  if (isDecade(counter)) {
    return { role: "counter", name: "counter", type: `${DECADE_COUNTER.name}, ${steps} steps`, pins: decadePins.map((pin) => ({ ...pin })) };
  }
  const names = outputs.flatMap((loads, output) => (loads.length === 0 ? [] : [outputName(counter, output)]));
  const carry = carryPin(counter).name;
  if (carries && !names.includes(carry)) names.unshift(carry);
  const kind = { ring: "ring", johnson: "Johnson", binary: "binary", lfsr: "shift register", table: "table", shuffle: "shuffle" }[counter.kind];
  return { role: "counter", name: "counter", type: `${kind} counter, ${steps} steps`, pins: ["plus", "minus", "clock", ...names].map(terminal) };
}

/**
 * The control pins of a decade counter: inhibit to minus; reset from the output after the last step, and by a pulse at
 * switch-on where the counter starts at its first step, each through a diode where there are both (common practice, no source).
 */
export function wireControls(harness: Harness, device: Device, counter: Counter): void {
  if (!isDecade(counter)) return;
  harness.toMinus(at(device, "INHIBIT"), "the counter may count");
  const reset = at(device, "RESET");
  const round = counter.steps < OUTPUT_PINS.length ? at(device, `Q${counter.steps}`) : null;
  const after = `back to the first step after ${counter.steps}`;
  if (counter.powerUp === "anywhere") {
    if (round === null) harness.toMinus(reset, "the counter is never reset");
    else harness.join(round, reset, after);
    return;
  }
  const atStart = "to the first step at switch-on";
  const c = harness.add(part("C start", "100 nF"));
  const r = harness.add(part("R start", "1 MΩ"));
  harness.fromPlus(lead(c), atStart);
  harness.join(lead(c, 1), lead(r), atStart);
  harness.toMinus(lead(r, 1), atStart);
  if (round === null) {
    harness.join(lead(c, 1), reset, atStart);
    return;
  }
  const start = harness.add(part("D start", "1N4148 type", DIODE));
  const back = harness.add(part("D round", "1N4148 type", DIODE));
  const down = harness.add(part("R reset", "1 MΩ"));
  harness.join(lead(c, 1), lead(start), atStart);
  harness.join(lead(start, 1), reset, "either of the two diodes resets the counter");
  harness.join(round, lead(back), after);
  harness.join(lead(back, 1), lead(start, 1), after);
  harness.join(lead(start, 1), lead(down), "the counter may count");
  harness.toMinus(lead(down, 1), "the counter may count");
}

const DIODE = ["anode", "cathode"] as const;
