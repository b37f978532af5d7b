import { DECADE_COUNTER } from "./counters.js";

/** A logic chip of the 4000 series: its pins by name, pin 1 first. Names are unique on a chip. */
export interface LogicChip {
  /** As printed on it, without the maker's letters: "4015". */
  readonly type: string;
  readonly name: string;
  readonly pins: readonly string[];
  readonly source: string;
}

/** Four gates with two inputs each, A and B, and an output Y. */
const QUAD = ["A1", "B1", "Y1", "Y2", "A2", "B2", "VSS", "A3", "B3", "Y3", "Y4", "A4", "B4", "VDD"] as const;

/** Chips of which counters, their gates and dividers are made. */
export const LOGIC = {
  "4001": { type: "4001", name: "four NOR gates of two inputs", pins: QUAD, source: "National CD4001BM/BC, connection diagram" },
  "4002": {
    type: "4002",
    name: "two NOR gates of four inputs",
    pins: ["Y1", "A1", "B1", "C1", "D1", "NC6", "VSS", "NC8", "D2", "C2", "B2", "A2", "Y2", "VDD"],
    source: "Nexperia HEF4002B rev 4, table 2",
  },
  "4011": { type: "4011", name: "four NAND gates of two inputs", pins: QUAD, source: "National CD4011BM/BC, connection diagram" },
  "4015": {
    type: "4015",
    name: "two shift registers of four stages",
    pins: ["CLOCK B", "Q4B", "Q3A", "Q2A", "Q1A", "RESET A", "DATA A", "VSS", "CLOCK A", "Q4A", "Q3B", "Q2B", "Q1B", "RESET B", "DATA B", "VDD"],
    source: "EAGLE library 40xx.lbr, device 4015; what the chip does: NXP HEF4015B rev 06",
  },
  "4017": { type: "4017", name: DECADE_COUNTER.name.replace(" of the 4017 type", ""), pins: decadePins(), source: DECADE_COUNTER.source },
  "4020": {
    type: "4020",
    name: "binary counter of 14 stages",
    pins: ["Q12", "Q13", "Q14", "Q6", "Q5", "Q7", "Q4", "VSS", "Q1", "CLOCK", "RESET", "Q9", "Q8", "Q10", "Q11", "VDD"],
    source: "Fairchild CD4020BC, DS005953, connection diagram",
  },
  "4040": {
    type: "4040",
    name: "binary counter of 12 stages",
    pins: ["Q12", "Q6", "Q5", "Q7", "Q4", "Q3", "Q2", "VSS", "Q1", "CLOCK", "RESET", "Q9", "Q8", "Q10", "Q11", "VDD"],
    source: "Motorola MC74HC4040A (identical in pinout to the MC14040), pinout",
  },
  "4060": {
    type: "4060",
    name: "binary counter of 14 stages with oscillator",
    pins: ["Q12", "Q13", "Q14", "Q6", "Q5", "Q7", "Q4", "VSS", "OSC OUT 2", "OSC OUT 1", "CLOCK", "RESET", "Q9", "Q8", "Q10", "VDD"],
    source: "TI SN74HC4060, SCLS161D, top view, pin compatible with the 4060 (Philips 74HC4060); " +
      "counts the falling edge: Fairchild CD4060BC, DS005953",
  },
  "4069": {
    type: "4069",
    name: "six inverters",
    pins: ["A1", "Y1", "A2", "Y2", "A3", "Y3", "VSS", "Y4", "A4", "Y5", "A5", "Y6", "A6", "VDD"],
    source: "Nexperia HEF4069UB rev 9, table 2",
  },
  "4070": { type: "4070", name: "four exclusive-OR gates of two inputs", pins: QUAD, source: "Nexperia HEF4070B rev 5, table 2" },
  "4078": {
    type: "4078",
    name: "NOR and OR gate of eight inputs",
    pins: ["OR", "A1", "B1", "C1", "D1", "NC6", "VSS", "NC8", "E1", "F1", "G1", "H1", "NOR", "VDD"],
    source: "ST HCF4078B, September 2002, pin description",
  },
  "4520": {
    type: "4520",
    name: "two binary counters of four stages",
    pins: ["CLOCK A", "ENABLE A", "Q1A", "Q2A", "Q3A", "Q4A", "RESET A", "VSS", "CLOCK B", "ENABLE B", "Q1B", "Q2B", "Q3B", "Q4B", "RESET B", "VDD"],
    source: "Nexperia HEF4520B rev 8, fig. 1: clock (L to H) 1, 9; enable, which counts H to L while the clock is low, 2, 10",
  },
} as const satisfies Record<string, LogicChip>;

export type LogicType = keyof typeof LOGIC;

/** True for a pin that drives; such a pin may stay open, and so may one that is not connected inside ("NC6"). */
export function mayStayOpen(pin: string): boolean {
  return /^(Q\d|Y\d|NC\d|N?OR$|CARRY$|OSC OUT)/.test(pin);
}

function decadePins(): string[] {
  const pins: string[] = [];
  DECADE_COUNTER.outputs.forEach((pin, output) => (pins[pin - 1] = `Q${output}`));
  const { carry, inhibit, clock, reset, ground, supply } = DECADE_COUNTER.pins;
  for (const [name, pin] of Object.entries({ CARRY: carry, INHIBIT: inhibit, CLOCK: clock, RESET: reset, VSS: ground, VDD: supply })) pins[pin - 1] = name;
  return pins;
}

/** The chip and output that divide by a power of two, and the other chips that would do as well; null where none does. */
export function dividerFor(ratio: number): { readonly chip: LogicType; readonly output: string; readonly others: readonly LogicType[] } | null {
  const stage = Math.log2(ratio);
  if (!Number.isInteger(stage) || stage < 1) return null;
  const output = `Q${stage}`;
  const able = (["4040", "4020", "4060"] as const).filter((type) => (LOGIC[type].pins as readonly string[]).includes(output));
  const [chip, ...others] = able;
  return chip === undefined ? null : { chip, output, others };
}
