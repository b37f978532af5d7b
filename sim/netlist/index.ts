import type { Scenario } from "../model/scenario.js";
import { volts } from "../units/quantities.js";
import { carryPin, clockPin, counterDevice, wireControls } from "./counters.js";
import { driversOf, groundName, wireHouses, wireInputs } from "./drivers.js";
import { at, Harness, lead } from "./harness.js";
import type { Device, Netlist } from "./model.js";
import { remarks } from "./remarks.js";
import { dividerDevice, pulseEnd, timerDevice, wireAstable } from "./timers.js";

export { isChip, type Device, type End, type Netlist, type Pin, type Role, type Wire } from "./model.js";

/** All connections of board `b`, and of what it is joined to, in the order of soldering. Volts, ohms, farads as in the scenario. */
export function netlist(scenario: Scenario, b: number): Netlist {
  const board = scenario.boards[b]!;
  const clocked = scenario.boards.filter(({ timer }) => timer.kind === "carry" && timer.from === b);
  const harness = new Harness();
  const supply = harness.add(supplyDevice(scenario));
  const timer = harness.add(timerDevice(board.timer, scenario));
  const divider = dividerDevice(board.timer);
  if (divider !== null) harness.add(divider);
  const counter = harness.add(counterDevice(board, clocked.length > 0));
  const drivers = driversOf(board);
  for (const { device } of drivers) harness.add(device);

  harness.join(at(supply, "plus"), lead(harness.plus), "supply");
  harness.join(at(supply, "minus"), lead(harness.minus), "supply");
  const feed = (device: Device, plus: string, minus: string): void => {
    harness.fromPlus(at(device, plus), "supply");
    harness.toMinus(at(device, minus), "supply");
  };
  if (board.timer.kind === "astable") feed(timer, "VCC", "GND");
  else if (board.timer.kind !== "carry") feed(timer, "plus", "minus");
  if (divider !== null) feed(divider, "plus", "minus");
  const clock = at(counter, clockPin(board.counter).name);
  const decade = clock.pin.number !== null;
  feed(counter, decade ? "VDD" : "plus", decade ? "VSS" : "minus");
  for (const { device } of drivers) harness.toMinus(at(device, groundName(board)), "supply");

  if (board.timer.kind === "astable") wireAstable(harness, timer, board.timer);
  const pulse = pulseEnd(timer, board.timer);
  if (divider === null) {
    harness.join(pulse, clock, "clock");
  } else {
    harness.join(pulse, at(divider, "input"), "clock");
    harness.join(at(divider, "output"), clock, "clock");
  }
  wireControls(harness, counter, board.counter);
  wireInputs(harness, board, counter, drivers);
  wireHouses(harness, board, drivers, scenario);
  for (const other of clocked) {
    const pin = clockPin(other.counter);
    const far: Device = {
      role: "board",
      name: `board ${other.id}`,
      type: "board that this one clocks",
      pins: [{ ...pin }],
    };
    harness.join(at(counter, carryPin(board.counter).name), lead(harness.add(far)), `clock of board ${other.id}`);
  }
  return { devices: harness.devices, wires: harness.wires, remarks: remarks(scenario, b, harness.devices) };
}

function supplyDevice({ supply }: Scenario): Device {
  const { regulator } = supply;
  const type = volts.format(supply.volts);
  const pins = ["plus", "minus"].map((name) => ({ name, number: null }));
  return { role: "supply", name: regulator === null ? "supply" : "regulator", type: regulator === null ? type : `${type} out`, pins };
}
