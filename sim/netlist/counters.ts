import { CASCADE_MOST } from "../parts/resetinputs.js";
import { JOHNSON_MOST } from "../parts/selfstart.js";
import { sequence } from "../counters/sequence.js";
import type { Board, Counter } from "../model/scenario.js";
import type { Asked, CounterChips } from "./asked.js";
import { binaryCounter } from "./binary.js";
import { at, terminal, type Harness } from "./harness.js";
import type { Device, Goods, Pin } from "./model.js";
import { johnsonCounter, shiftRegister } from "./registers.js";
import { ringCounter } from "./rings.js";

/** The chip that would have to be in the catalogue for a counter; null for a counter that can be built from it. */
function missingChip(counter: Counter): string | null {
  switch (counter.kind) {
    case "table":
    case "shuffle":
      return "a programmed controller (microcontroller) that holds the rows";
    case "ring":
      return counter.steps > CASCADE_MOST ? `a counter of ${counter.steps} steps; a programmed controller does it` : null;
    case "johnson":
      return counter.stages > JOHNSON_MOST ? `a gate for ${counter.stages} stages that leads back into the cycle; a programmed ` +
        "controller does it" : null;
    case "binary":
    case "lfsr":
      return null;
  }
}

/** Adds the chips of a counter and joins them; what feeds clock and resets is for the caller to join. */
export function buildCounter(harness: Harness, board: Board, asked: Asked): CounterChips {
  const { counter } = board;
  if (missingChip(counter) !== null) return programmed(harness, board);
  switch (counter.kind) {
    case "ring":
      return ringCounter(harness, counter.steps, asked);
    case "johnson":
      return johnsonCounter(harness, counter.stages, asked);
    case "binary":
      return binaryCounter(harness, counter.bits, asked);
    case "lfsr":
      return shiftRegister(harness, counter, asked);
    case "table":
    case "shuffle":
      return programmed(harness, board);
  }
}

const KINDS = { ring: "ring", johnson: "Johnson", binary: "binary", lfsr: "shift register", table: "table", shuffle: "shuffle" } as const;

/** A programmed controller: its pins are for whoever programs it to choose. */
function programmed(harness: Harness, { counter, outputs }: Board): CounterChips {
  const { steps } = sequence(counter);
  const used = outputs.flatMap((loads, output) => (loads.length === 0 ? [] : [output]));
  const names = ["plus", "minus", "clock", ...used.map((output) => `output ${output}`), "carry"];
  const goods: Goods[] = [{ what: "chip", value: "programmed controller", rating: null, count: 1 }];
  const device: Device = {
    role: "counter",
    name: "counter",
    type: `programmed controller: ${KINDS[counter.kind]}, ${steps} steps`,
    pins: names.map(terminal),
    goods,
  };
  harness.add(device);
  harness.feed(device, "plus", "minus");
  return {
    clock: at(device, "clock"),
    outputs: outputs.map((loads, output) => (loads.length === 0 ? at(device, "clock") : at(device, `output ${output}`))),
    heard: new Set(),
    resets: [],
    round: null,
    carry: () => at(device, "carry"),
    remarks: [
      `This counter cannot be built from the catalogue. Missing chip: ${missingChip(counter)!}. Its terminals have names and no ` +
        "numbers: whoever " +
        "programs it chooses the pins and writes them down here.",
      "The controller goes on by one at each rising edge of " +
        "its clock" + (counter.powerUp === "reset" ? ", and begins at its first step at every switch-on." : "."),
    ],
  };
}

/** The terminal at which the first chip of a counter takes its clock. */
const CLOCK_PINS: { readonly [Kind in Counter["kind"]]: Pin } = {
  ring: { name: "CLOCK", number: 14 },
  johnson: { name: "CLOCK A", number: 9 },
  binary: { name: "CLOCK A", number: 1 },
  lfsr: { name: "CLOCK A", number: 9 },
  table: terminal("clock"),
  shuffle: terminal("clock"),
};

/** The terminal of another board at which its counter takes a clock, for that board's card to be found by. */
export function clockPinOf(counter: Counter): Pin {
  return missingChip(counter) === null ? CLOCK_PINS[counter.kind] : terminal("clock");
}
