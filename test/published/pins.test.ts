import { describe, expect, test } from "vitest";
import { DECADE_COUNTER } from "../../sim/parts/counters.js";
import { dividerFor, LOGIC, type LogicType } from "../../sim/parts/logic.js";

/** Pin numbers by name, of a chip of the catalogue. */
const numbers = (type: LogicType, names: readonly string[]): number[] => names.map((name) => (LOGIC[type].pins as readonly string[]).indexOf(name) + 1);
const stages = (type: LogicType, from: number, to: number): number[] => numbers(type, Array.from({ length: to - from + 1 }, (_, i) => `Q${from + i}`));

describe("pins of the logic chips", () => {
  test("4001 and 4011", () => {
    // National CD4001BM/BC and CD4011BM/BC, connection diagrams: A 1, B 2, J 3; C 5, D 6, K 4; E 8, F 9, L 10; G 12, H 13, M 11; VSS 7, VDD 14
    // the same for the 4070: Nexperia HEF4070B rev 5, 16 Dec 2015, table 2: 1A to 4A 1, 5, 8, 12; 1B to 4B 2, 6, 9, 13; 1Y to 4Y 3, 4, 10, 11; VSS 7; VDD 14
    for (const type of ["4001", "4011", "4070"] as const) {
      expect(numbers(type, ["A1", "B1", "Y1", "A2", "B2", "Y2", "A3", "B3", "Y3", "A4", "B4", "Y4"])).toEqual([1, 2, 3, 5, 6, 4, 8, 9, 10, 12, 13, 11]);
      expect(numbers(type, ["VSS", "VDD"])).toEqual([7, 14]);
    }
  });

  test("4002", () => {
    // Nexperia HEF4002B rev 4, 17 Oct 2016, table 2: 1A to 1D 2 to 5; 2A to 2D on 9 to 12; 1Y 1, 2Y 13; n.c. 6, 8; VSS 7; VDD 14
    expect(numbers("4002", ["A1", "B1", "C1", "D1", "Y1"])).toEqual([2, 3, 4, 5, 1]);
    expect(numbers("4002", ["A2", "B2", "C2", "D2"]).sort((a, b) => a - b)).toEqual([9, 10, 11, 12]);
    expect(numbers("4002", ["Y2", "NC6", "NC8", "VSS", "VDD"])).toEqual([13, 6, 8, 7, 14]);
  });

  test("4015", () => {
    // EAGLE library 40xx.lbr, device 4015: D 7, CLK 9, RES 6, QA to QD 5 4 3 10; D 15, CLK 1, RES 14, QA to QD 13 12 11 2
    expect(numbers("4015", ["DATA A", "CLOCK A", "RESET A", "Q1A", "Q2A", "Q3A", "Q4A"])).toEqual([7, 9, 6, 5, 4, 3, 10]);
    expect(numbers("4015", ["DATA B", "CLOCK B", "RESET B", "Q1B", "Q2B", "Q3B", "Q4B"])).toEqual([15, 1, 14, 13, 12, 11, 2]);
    expect(numbers("4015", ["VSS", "VDD"])).toEqual([8, 16]);
  });

  test("4017", () => {
    // 4000-series reference page citing TI CD4017B: outputs 3, 2, 4, 7, 10, 1, 5, 6, 9, 11; carry 12, inhibit 13, clock 14, reset 15
    expect(stages("4017", 0, 9)).toEqual([3, 2, 4, 7, 10, 1, 5, 6, 9, 11]);
    expect(numbers("4017", ["CARRY", "INHIBIT", "CLOCK", "RESET", "VSS", "VDD"])).toEqual([12, 13, 14, 15, 8, 16]);
    expect(DECADE_COUNTER.outputs).toEqual(stages("4017", 0, 9));
  });

  test("4020, 4040 and 4060", () => {
    // Fairchild CD4020BC, DS005953, connection diagram
    expect(numbers("4020", ["Q1", "CLOCK", "RESET", "VSS", "VDD"])).toEqual([9, 10, 11, 8, 16]);
    expect(stages("4020", 4, 14)).toEqual([7, 5, 4, 6, 13, 12, 14, 15, 1, 2, 3]);
    // Motorola MC54/74HC4040A, "identical in pinout to the standard CMOS MC14040": Q1 to Q12 on 9 7 6 5 3 2 4 13 12 14 15 1, clock 10, reset 11
    expect(stages("4040", 1, 12)).toEqual([9, 7, 6, 5, 3, 2, 4, 13, 12, 14, 15, 1]);
    expect(numbers("4040", ["CLOCK", "RESET", "VSS", "VDD"])).toEqual([10, 11, 8, 16]);
    // TI SN74HC4060, SCLS161D, top view: pins 1 to 8 QL QM QN QF QE QG QD GND (QD is stage 4), 9 to 16 CLKO CLKO CLKI CLR QI QH QJ VCC;
    // Philips 74HC/HCT4060, December 1990: "pin compatible with '4060' of the '4000B' series"
    expect(stages("4060", 4, 10)).toEqual([7, 5, 4, 6, 14, 13, 15]);
    expect(numbers("4060", ["Q12", "Q13", "Q14", "CLOCK", "RESET", "VSS", "VDD"])).toEqual([1, 2, 3, 11, 12, 8, 16]);
  });

  test("4069", () => {
    // Nexperia HEF4069UB rev 9, 16 Dec 2015, table 2: inputs 1, 3, 5, 9, 11, 13; outputs 2, 4, 6, 8, 10, 12; VSS 7; VDD 14
    expect(numbers("4069", [1, 2, 3, 4, 5, 6].map((n) => `A${n}`))).toEqual([1, 3, 5, 9, 11, 13]);
    expect(numbers("4069", [1, 2, 3, 4, 5, 6].map((n) => `Y${n}`))).toEqual([2, 4, 6, 8, 10, 12]);
    expect(numbers("4069", ["VSS", "VDD"])).toEqual([7, 14]);
  });

  test("4078", () => {
    // ST HCF4078B, September 2002, pin description: A to H 2, 3, 4, 5, 9, 10, 11, 12; K (OR) 1; J (NOR) 13; NC 6, 8; VSS 7; VDD 14
    expect(numbers("4078", ["A1", "B1", "C1", "D1", "E1", "F1", "G1", "H1"])).toEqual([2, 3, 4, 5, 9, 10, 11, 12]);
    expect(numbers("4078", ["NOR", "OR", "NC6", "NC8", "VSS", "VDD"])).toEqual([13, 1, 6, 8, 7, 14]);
  });

  test("4520", () => {
    // Nexperia HEF4520B rev 8, 1 Mar 2022, fig. 1: 1CP0 1, 1CP1 2, 1Q0 to 1Q3 3 to 6, 1MR 7; 2CP0 9, 2CP1 10, 2Q0 to 2Q3 11 to 14, 2MR 15
    expect(numbers("4520", ["CLOCK A", "ENABLE A", "Q1A", "Q2A", "Q3A", "Q4A", "RESET A"])).toEqual([1, 2, 3, 4, 5, 6, 7]);
    expect(numbers("4520", ["CLOCK B", "ENABLE B", "Q1B", "Q2B", "Q3B", "Q4B", "RESET B"])).toEqual([9, 10, 11, 12, 13, 14, 15]);
    expect(numbers("4520", ["VSS", "VDD"])).toEqual([8, 16]);
  });

  test("no pin stands twice, and each chip has a socket's worth", () => {
    for (const { pins } of Object.values(LOGIC)) {
      expect(new Set(pins).size).toBe(pins.length);
      expect([14, 16]).toContain(pins.length);
    }
  });

  test("a ripple counter divides by two at each stage: by 16 at Q4; not by numbers between", () => {
    // Fairchild CD4020BC, DS005953: "advanced one count on the negative transition of each clock pulse", stages 1 and 4 to 14
    expect(dividerFor(16)).toEqual({ chip: "4040", output: "Q4", others: ["4020", "4060"] });
    expect(dividerFor(2)).toEqual({ chip: "4040", output: "Q1", others: ["4020"] });
    expect(dividerFor(16384)).toEqual({ chip: "4020", output: "Q14", others: ["4060"] });
    for (const none of [1, 3, 10, 100, 32768]) expect(dividerFor(none)).toBeNull();
  });
});
