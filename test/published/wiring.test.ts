import { expect, test } from "vitest";
import { netlist, type Wire } from "../../sim/netlist/index.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { readScenario } from "../../sim/scenario/file.js";
import { demo } from "../endtoend/command.js";

const scenario = await readScenario(demo("tidewater-lane"));
const { wires } = netlist(scenario, scenario.boards.findIndex(({ id }) => id === "quay"));

const told = ({ from, to }: Wire): string => `${from.device.name} ${from.pin.number ?? from.pin.name} > ${to.device.name} ${to.pin.number ?? to.pin.name}`;
const between = (a: string, b: string): string[] => wires.filter(({ from, to }) => from.device.name === a && to.device.name === b).map(told);

test("a decade counter's outputs 0 to 9 are its pins 3, 2, 4, 7, 10, 1, 5, 6, 9, 11", () => {
  // 4000-series reference page citing TI CD4017B: output pins Q0..Q9; ten outputs share two drivers evenly
  const pins = [3, 2, 4, 7, 10, 1, 5, 6, 9, 11];
  expect(between("counter", "driver 1")).toEqual(pins.slice(0, 5).map((pin, k) => `counter ${pin} > driver 1 ${k + 1}`));
  expect(between("counter", "driver 2")).toEqual(pins.slice(5).map((pin, k) => `counter ${pin} > driver 2 ${k + 1}`));
});

test("its other pins: carry 12, inhibit 13, clock 14, reset 15, VSS 8, VDD 16", () => {
  // the same page; what they are joined to: inhibit low counts (Nexperia HEF4017B rev 9, section 1)
  const all = wires.map(told);
  expect(all).toContain("timer 3 > counter 14");
  expect(all).toContain("counter 13 > minus rail");
  expect(all).toContain("C start - > counter 15");
  expect(all).toContain("counter 8 > minus rail");
  expect(all).toContain("plus rail > counter 16");
});

test("a board that goes all ten steps clocks another by its carry, which rises on 9 to 0; a shorter ring by output 0", () => {
  // Nexperia HEF4017B rev 9 (8 Apr 2016), section 1: carry high in counts 0-4, low in 5-9
  const carry = (steps: number): string[] => {
    const text = `lampdrift: 1\ntitle: T\nhouses: { inn: }\nboards:\n  a: { timer: { kind: quartz, step: 9 s }, counter: { kind: ring, steps: ${steps} }, outputs: { 1: inn } }\n  b: { timer: { kind: carry, from: a }, counter: { kind: ring, steps: 2 }, outputs: { 0: inn } }\n`;
    const both = parseScenario(text, "t.yaml");
    return [0, 1].flatMap((b) => netlist(both, b).wires.filter(({ purpose }) => purpose.startsWith("clock")).map(told)).filter((wire) => wire.includes("board"));
  };
  expect(carry(10)).toEqual(["counter 12 > board b 14", "board a 12 > counter 14"]);
  expect(carry(6)).toEqual(["counter 3 > board b 14", "board a 3 > counter 14"]);
});

test("a driver's inputs 1 to 8 lie opposite its outputs 18 to 11; ground is pin 9, and pin 10 stays open", () => {
  // TI ULN2803A, SLRS049C, G
  const houses = new Set(scenario.houses.map(({ name }) => name));
  const lit = ({ name }: Wire["to"]["device"]): boolean => houses.has(name) || /^D\d/.test(name);
  const outputs = [...new Set(wires.filter(({ from, to }) => from.device.name === "driver 1" && lit(to.device)).map(({ from }) => from.pin.number))];
  expect(outputs).toEqual([18, 17, 16, 15, 14]);
  expect(between("driver 1", "minus")).toEqual(["driver 1 9 > minus rail", "driver 1 6 > minus rail", "driver 1 7 > minus rail", "driver 1 8 > minus rail"]);
  expect(wires.some(({ from, to }) => [from, to].some(({ device, pin }) => device.role === "driver" && pin.number === 10))).toBe(false);
});

test("an astable of the 555 type: Ra from plus to pin 7, Rb and the trimmer from there to pins 6 and 2, the capacitor to minus", () => {
  // common practice, no source: pins GND 1, TRIG 2, OUT 3, RESET 4, CONT 5, THRES 6, DISCH 7, VCC 8
  // 4.7 kΩ between a large capacitor and the inputs of a CMOS timer: ICM7555 data sheet, absolute maximum ratings, note 1
  expect(wires.map(told).filter((wire) => /Ra|Rb|trimmer|guard|empty|\bC\b|timer [24568]/.test(wire) && !/C start|> C\d/.test(wire))).toEqual([
    "plus rail > timer 8",
    "plus rail > timer 4",
    "plus rail > Ra lead 1",
    "Ra lead 2 > timer 7",
    "timer 7 > Rb lead 1",
    "Rb lead 2 > trimmer start",
    "trimmer wiper > C +",
    "C + > R guard lead 1",
    "R guard lead 2 > timer 6",
    "timer 6 > timer 2",
    "C + > D empty anode",
    "D empty cathode > plus rail",
    "C - > minus rail",
    "timer 5 > C cont lead 1",
    "C cont lead 2 > minus rail",
  ]);
});
