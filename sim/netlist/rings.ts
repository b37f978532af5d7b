import { FIRST_OF_RING, FURTHER_OF_RING } from "../parts/resetinputs.js";
import type { Asked, CounterChips } from "./asked.js";
import { at, lead, quadGates, type Harness } from "./harness.js";
import type { End } from "./model.js";

/** A ring counter of one decade counter, or of several one after the other. */
export function ringCounter(harness: Harness, steps: number, asked: Asked): CounterChips {
  return steps <= 10 ? decade(harness, steps, asked) : cascade(harness, steps, asked);
}

function decade(harness: Harness, steps: number, { falling }: Asked): CounterChips {
  const chip = harness.chip("counter", "counter", "4017");
  if (falling) harness.fromPlus(at(chip, "CLOCK"), "counts the falling edge at INHIBIT");
  else harness.toMinus(at(chip, "INHIBIT"), "the counter may count");
  const outputs = Array.from({ length: steps }, (_, output) => at(chip, `Q${output}`));
  return {
    clock: at(chip, falling ? "INHIBIT" : "CLOCK"),
    outputs,
    heard: new Set(),
    resets: [at(chip, "RESET")],
    round: steps < 10 ? { from: at(chip, `Q${steps}`), steps } : null,
    // the carry of a full round rises from 9 to 0
    carry: () => at(chip, steps === 10 ? "CARRY" : "Q0"),
    remarks: [],
  };
}

/**
 * A chip stands still at its Q9, which lets the clock on to the next; the output after the last step resets them all. The
 * last chip gets its reset a little later, so that it ends the pulse only when all the others have had it.
 */
function cascade(harness: Harness, steps: number, { falling, resets }: Asked): CounterChips {
  const count = 1 + Math.ceil((steps - FIRST_OF_RING) / FURTHER_OF_RING);
  const chips = Array.from({ length: count }, (_, i) => harness.chip("counter", `counter ${i + 1}`, "4017"));
  const gates = quadGates(harness, "4011", "gates");
  const last = chips[count - 1]!;
  // where the clock goes in: the first chip, or the inverter before it
  let clock: End = at(chips[0]!, "CLOCK");
  let entry = clock;
  if (falling) {
    // both inputs of a NAND joined: an inverter
    const inverted = gates.gate([], "counts the falling edge");
    const names = inputsOf(inverted);
    harness.join(names[0], names[1], "counts the falling edge");
    entry = names[0];
    harness.join(inverted, clock, "clock");
    clock = inverted;
  }
  for (let i = 1; i < count; i++) {
    const before = chips[i - 1]!;
    const nand = gates.gate([clock, at(before, "Q9")], `to counter ${i + 1}`);
    clock = gates.gate([nand], `to counter ${i + 1}`);
    harness.join(clock, at(chips[i]!, "CLOCK"), `to counter ${i + 1}`);
    harness.pullDown(at(chips[i]!, "CLOCK"));
    harness.join(at(before, "Q9"), at(before, "INHIBIT"), "stands still at Q9");
  }
  harness.toMinus(at(last, "INHIBIT"), "the counter may count");
  const outputs = chips.flatMap((chip, i) => {
    const from = i === 0 ? 0 : 1;
    return Array.from({ length: FURTHER_OF_RING + 1 - from }, (_, k) => at(chip, `Q${from + k}`));
  });
  const lastStep = steps - FIRST_OF_RING - (count - 2) * FURTHER_OF_RING;
  const late = harness.resistor("R late", 10e3);
  const delay = harness.capacitor("C late", 1e-9);
  const first = at(chips[0]!, "RESET");
  const early = chips.slice(0, -1).map((chip) => at(chip, "RESET"));
  harness.chain(early, "all start together");
  harness.join(early[early.length - 1]!, lead(late), "the last chip a little later");
  harness.join(lead(late, 1), at(last, "RESET"), "the last chip a little later");
  harness.join(at(last, "RESET"), lead(delay), "the last chip a little later");
  harness.toMinus(lead(delay, 1), "the last chip a little later");
  for (const chip of chips.slice(1)) harness.pullDown(at(chip, "RESET"));
  return {
    clock: entry,
    outputs: outputs.slice(0, steps),
    heard: new Set(),
    resets: [first],
    round: { from: at(last, `Q${lastStep + 1}`), steps },
    carry: () => at(chips[0]!, "Q0"),
    remarks: [
      `The ring is ${count} decade counters: outputs 0 to 8 are Q0 to Q8 of counter 1, each further counter adds its Q1 to Q8.`,
      ...(resets ? [] : ["These counters may wake up with several outputs on; the first round puts that right. The figures suppose one."]),
    ],
  };
}

/** The two inputs of the gate that has this output. */
function inputsOf({ device, pin }: End): [End, End] {
  const gate = pin.name.slice(1);
  return [at(device, `A${gate}`), at(device, `B${gate}`)];
}
