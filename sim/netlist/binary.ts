import type { Asked, CounterChips } from "./asked.js";
import { at, quadGates, type Harness } from "./harness.js";
import type { End } from "./model.js";

/**
 * A binary counter of 4520 halves: the first counts the clock, each further one the falling edge of the bit before it at its
 * enable input with the clock input low, as the data sheet has it (Nexperia HEF4520B, section 1).
 */
export function binaryCounter(harness: Harness, bits: number, { falling }: Asked): CounterChips {
  const halves = Math.ceil(bits / 4);
  const count = Math.ceil(halves / 2);
  const chips = Array.from({ length: count }, (_, i) => harness.chip("counter", count === 1 ? "counter" : `counter ${i + 1}`, "4520"));
  const pin = (half: number, name: string): End => at(chips[half >> 1]!, `${name} ${half % 2 === 0 ? "A" : "B"}`);
  const q = (bit: number): End => at(chips[bit >> 3]!, `Q${(bit % 4) + 1}${bit % 8 < 4 ? "A" : "B"}`);
  if (falling) harness.toMinus(pin(0, "CLOCK"), "counts the falling edge at ENABLE");
  else harness.fromPlus(pin(0, "ENABLE"), "the counter may count");
  for (let half = 1; half < halves; half++) {
    harness.join(q(4 * half - 1), pin(half, "ENABLE"), "counts each time the bit before it goes out");
    harness.toMinus(pin(half, "CLOCK"), "counts the falling edge at ENABLE");
  }
  return {
    clock: pin(0, falling ? "ENABLE" : "CLOCK"),
    outputs: Array.from({ length: bits }, (_, bit) => q(bit)),
    heard: new Set(Array.from({ length: halves - 1 }, (_, half) => 4 * half + 3)),
    resets: Array.from({ length: halves }, (_, half) => pin(half, "RESET")),
    round: null,
    carry: () => quadGates(harness, "4011", "gates").gate([q(bits - 1)], "rises as the last bit goes out"),
    remarks: [],
  };
}
