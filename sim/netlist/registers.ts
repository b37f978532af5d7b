import { JOHNSON_GATE, johnsonWayBack } from "../parts/selfstart.js";
import type { Counter } from "../model/scenario.js";
import type { Asked, CounterChips } from "./asked.js";
import { at, fourInputNors, Gates, inverters, quadGates, type Harness } from "./harness.js";
import type { End } from "./model.js";

/** Shift registers of the 4015 type one after the other, and the terminals they have in common. */
interface Register {
  /** Of stage 1, 2, … */
  readonly stages: readonly End[];
  readonly data: End;
  readonly clocks: readonly End[];
  readonly resets: readonly End[];
}

function register(harness: Harness, length: number): Register {
  const halves = Math.ceil(length / 4);
  const count = Math.ceil(halves / 2);
  const chips = Array.from({ length: count }, (_, i) => harness.chip("counter", count === 1 ? "counter" : `counter ${i + 1}`, "4015"));
  const pins = (name: string): End[] =>
    Array.from({ length: halves }, (_, half) => at(chips[half >> 1]!, `${name} ${half % 2 === 0 ? "A" : "B"}`));
  const stages = Array.from({ length }, (_, i) => at(chips[i >> 3]!, `Q${(i % 4) + 1}${i % 8 < 4 ? "A" : "B"}`));
  const data = pins("DATA");
  for (let half = 1; half < halves; half++) harness.join(stages[4 * half - 1]!, data[half]!, "on to the next stages");
  const clocks = pins("CLOCK");
  harness.chain(clocks, "clock");
  for (const clock of clocks.slice(1)) harness.pullDown(clock);
  return { stages, data: data[0]!, clocks, resets: pins("RESET") };
}

/**
 * A Johnson counter: the last stage comes back inverted, through three NOR gates that let a one in only while the last stage is
 * empty and the first is full, or while the two watched stages are empty too ({@link JOHNSON_GATE}).
 */
export function johnsonCounter(harness: Harness, stages: number, { falling }: Asked): CounterChips {
  const shift = register(harness, stages);
  const gates = quadGates(harness, "4001", "gates");
  const stage = (k: number): End => shift.stages[k - 1]!;
  const watched = JOHNSON_GATE[stages];
  const back = "leads back into the cycle";
  // the last stage, and those that go on to the next register
  const heard = new Set([stages - 1, ...Array.from({ length: stages - 1 }, (_, i) => i).filter((i) => i % 4 === 3)]);
  let feedback: End;
  if (watched === undefined) {
    feedback = gates.gate([stage(stages)], "the last stage comes back inverted");
  } else {
    const [a, b] = watched;
    const empty = gates.gate(a === b ? [stage(a)] : [stage(a), stage(b)], back);
    const keep = gates.gate([stage(1), empty], back);
    feedback = gates.gate([stage(stages), keep], "the last stage comes back inverted");
    for (const k of [1, a, b]) heard.add(k - 1);
  }
  harness.join(feedback, shift.data, "the last stage comes back inverted");
  const clock = falling ? invertedClock(gates, shift.clocks[0]!, harness) : shift.clocks[0]!;
  return {
    clock,
    outputs: shift.stages,
    heard,
    resets: shift.resets,
    round: null,
    carry: () => gates.gate([stage(stages)], "rises as the last stage goes out"),
    remarks:
      watched === undefined
        ? []
        : [
            `${stages} stages have ${2 ** stages} patterns, of which ${2 * stages} are in the cycle. The three NOR gates lead back ` +
              "into it, within " +
              `${johnsonWayBack(stages)} steps at most; without them the counter may run another cycle for ever (TI SBOA550, appendix B).`,
          ],
  };
}

/**
 * A shift register with feedback, as the exclusive OR of its taps, and with the gate that puts a one in when all stages are empty.
 * Where it has to begin with all stages full it runs inverted, since its reset empties it, and inverters drive the outputs.
 */
export function shiftRegister(harness: Harness, { bits, taps }: Extract<Counter, { kind: "lfsr" }>, { falling, resets }: Asked): CounterChips {
  const shift = register(harness, bits);
  const gates = quadGates(harness, "4070", "gates");
  const nots = inverters(harness, "inverters");
  const fours = fourInputNors(harness, "NOR");
  const outputs = resets ? shift.stages.map((stage, i) => nots.gate([stage], `output ${i}`)) : shift.stages;
  // an even number of taps: the exclusive OR of all inverted is that of none inverted
  let sum = shift.stages[taps[0]! - 1]!;
  for (const tap of taps.slice(1)) sum = gates.gate([sum, shift.stages[tap - 1]!], "feedback");
  sum = gates.gate([sum, allLow(harness, fours, outputs, "all stages empty", "empty")], "starts it when all stages are empty");
  if (resets) sum = againstPlus(harness, gates, sum, "runs inverted");
  harness.join(sum, shift.data, "feedback");
  const clock = falling ? invertedClock(gates, shift.clocks[0]!, harness, "4070") : shift.clocks[0]!;
  return {
    clock,
    outputs,
    heard: new Set(resets ? outputs.keys() : shift.stages.keys()),
    resets: shift.resets,
    round: null,
    carry: () => allLow(harness, fours, resets ? shift.stages : shift.stages.map((stage) => nots.gate([stage], "all stages full")), "first step", "first"),
    remarks: [
      `Of ${2 ** bits} patterns the one with all stages empty is outside the cycle, and would stay for ever: dark until power is cycled. ` +
        "The NOR gate sees it, and the exclusive OR after it puts a one in at the next step.",
      ...(resets ? ["The register runs inverted, so that its reset means all outputs on; the inverters turn it round again."] : []),
    ],
  };
}

/** A terminal that is high while all of the others are low; the chips are named after what it is for. */
function allLow(harness: Harness, fours: Gates, ends: readonly End[], why: string, name: string): End {
  if (ends.length <= 4) return fours.gate(ends, why);
  const eights = Array.from({ length: Math.ceil(ends.length / 8) }, (_, i) => {
    const chip = harness.chip("gate", ends.length <= 8 ? `NOR ${name}` : `NOR ${name} ${i + 1}`, "4078");
    const inputs = ["A1", "B1", "C1", "D1", "E1", "F1", "G1", "H1"];
    ends.slice(8 * i, 8 * i + 8).forEach((end, k) => harness.join(end, at(chip, inputs[k]!), why));
    return chip;
  });
  if (eights.length === 1) return at(eights[0]!, "NOR");
  return fours.gate(eights.map((chip) => at(chip, "OR")), why);
}

/** An exclusive OR with its other input at plus: an inverter. */
function againstPlus(harness: Harness, gates: Gates, from: End, purpose: string): End {
  const output = gates.gate([from, at(harness.plus, "rail")], purpose);
  return output;
}

/** An inverter before a clock input, for a divider whose falling edge is to be counted. Returns where the clock goes in. */
function invertedClock(gates: Gates, clock: End, harness: Harness, type: "4001" | "4070" = "4001"): End {
  const purpose = "counts the falling edge";
  const output = gates.gate([], purpose);
  const [a, b] = ["A", "B"].map((name) => at(output.device, `${name}${output.pin.name.slice(1)}`)) as [End, End];
  if (type === "4070") harness.fromPlus(b, purpose);
  else harness.join(a, b, purpose);
  harness.join(output, clock, "clock");
  harness.pullDown(clock);
  return a;
}
