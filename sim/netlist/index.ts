import type { Scenario } from "../model/scenario.js";
import { volts } from "../units/quantities.js";
import type { CounterChips } from "./asked.js";
import { buildCounter, clockPinOf } from "./counters.js";
import { addDrivers, wireInputs } from "./drivers.js";
import { fuseAmps } from "./fuse.js";
import { at, Harness, lead, terminal } from "./harness.js";
import { wireHouses } from "./houses.js";
import type { Device, End, Goods, Netlist } from "./model.js";
import { remarks } from "./remarks.js";
import { wireStart } from "./start.js";
import { addDivider, addTimer, wireAstable, type Divider } from "./timers.js";

export { WAY_IN_WORDS } from "./houses.js";
export { isChip, type Device, type End, type Goods, type Netlist, type Pin, type Role, type Wire } from "./model.js";

/** All connections of board `b`, and of what it is joined to, in the order of soldering. Volts, ohms, farads as in the scenario. */
export function netlist(scenario: Scenario, b: number): Netlist {
  const board = scenario.boards[b]!;
  const { timer, counter } = board;
  const harness = new Harness(scenario.supply.volts);
  wireSupply(harness, scenario, b);

  harness.stage = "timer";
  const own = addTimer(harness, timer);
  if (own !== null && timer.kind === "astable") wireAstable(harness, own, timer, scenario.supply.volts);
  const divider = addDivider(harness, timer);

  harness.stage = "counter";
  const chips = buildCounter(harness, board, { falling: divider !== null, resets: counter.powerUp === "reset" });
  const start = wireStart(harness, chips, divider?.reset ?? null, counter.powerUp === "reset", scenario.supply.volts);
  const heard = new Set(chips.heard);
  harness.stage = "boards";
  wireBoards(harness, scenario, b, chips, heard);

  harness.stage = "clock";
  wireClock(harness, scenario, b, own, divider, chips);

  harness.stage = "drivers";
  const drivers = addDrivers(harness, board);
  wireInputs(harness, board, chips.outputs, heard, drivers);
  harness.stage = "houses";
  wireHouses(harness, scenario, b, drivers);
  harness.stage = "counter";
  harness.closeInputs();
  const { devices } = harness;
  const told = remarks(scenario, b, { devices, wires: harness.wires(), start, counter: chips.remarks, divider: divider?.remarks ?? [] });
  return { devices, wires: harness.wires(), outputs: chips.outputs, start, usualLamp: scenario.lamps[0]?.id ?? "", remarks: told };
}

function wireSupply(harness: Harness, scenario: Scenario, b: number): void {
  const supply = harness.add(supplyDevice(scenario, b));
  const amps = fuseAmps(scenario, b);
  const value = `${amps < 1 ? `${amps * 1000} mA` : `${amps} A`} T (slow)`;
  const fuse = harness.part("F1", value, ["end 1", "end 2"], [
    { what: "fuse", value, rating: "5 × 20 mm", count: 1 },
    { what: "connector", value: "fuse holder, 5 × 20 mm", rating: null, count: 1 },
  ]);
  harness.join(at(supply, "plus"), lead(fuse), "supply");
  harness.join(lead(fuse, 1), lead(harness.plus), "supply");
  harness.join(at(supply, "minus"), lead(harness.minus), "supply");
}

function supplyDevice({ supply }: Scenario, b: number): Device {
  const { regulator } = supply;
  const type = volts.format(supply.volts);
  const goods: Goods[] = [{ what: "connector", value: "screw terminal, 2 poles", rating: null, count: 1 }];
  if (regulator === null) return { role: "supply", name: "supply", type, pins: ["plus", "minus"].map(terminal), goods };
  // one regulator for the whole display, counted with the first board
  const once: Goods[] = b === 0 ? [{ what: "chip", value: `${type} regulator of the 78xx type`, rating: null, count: 1 }] : [];
  return { role: "supply", name: "regulator", type: `${type} out`, pins: ["plus", "minus"].map(terminal), goods: [...goods, ...once] };
}

/** From the timer, or another board, through the divider to the counter; every clock input low when its wire comes off. */
function wireClock(harness: Harness, scenario: Scenario, b: number, own: Device | null, divider: Divider | null, { clock }: CounterChips): void {
  const { timer } = scenario.boards[b]!;
  const pulse = own === null ? otherBoard(harness, scenario, b) : at(own, timer.kind === "astable" ? "OUT" : "output");
  if (divider === null) {
    harness.join(pulse, clock, "clock");
  } else {
    harness.join(pulse, divider.input, "clock");
    if (divider.reset !== null) harness.pullDown(divider.input);
    harness.join(divider.output, clock, "clock, falling edge");
  }
  if (clock.pin.number !== null) harness.pullDown(clock);
}

/** The board that clocks this one, as one terminal. */
function otherBoard(harness: Harness, scenario: Scenario, b: number): End {
  const { timer } = scenario.boards[b]!;
  if (timer.kind !== "carry") throw new Error("a board without a timer of its own is clocked by another");
  const { id } = scenario.boards[timer.from]!;
  const { pin, device } = carryOf(scenario, timer.from);
  const name = device.name === "counter" ? pin.name : `${device.name} ${pin.name}`;
  return lead(harness.add({ role: "board", name: `board ${id}`, type: "board that clocks this one",
    pins: [{ name, number: pin.number }], goods: [] }));
}

/** The terminal by which a board clocks others. */
function carryOf(scenario: Scenario, b: number): End {
  const board = scenario.boards[b]!;
  const asked = { falling: board.timer.kind === "astable" && board.timer.divide > 1, resets: board.counter.powerUp === "reset" };
  return buildCounter(new Harness(scenario.supply.volts), board, asked).carry();
}

/** The boards that this one clocks. */
function wireBoards(harness: Harness, scenario: Scenario, b: number, chips: CounterChips, heard: Set<number>): void {
  const clocked = scenario.boards.filter(({ timer }) => timer.kind === "carry" && timer.from === b);
  if (clocked.length === 0) return;
  const carry = chips.carry();
  const shared = chips.outputs.findIndex(({ pin }) => pin === carry.pin);
  if (shared >= 0) heard.add(shared);
  for (const other of clocked) {
    const pins = [{ ...clockPinOf(other.counter) }];
    const far = harness.add({ role: "board", name: `board ${other.id}`, type: "board that this one clocks", pins, goods: [] });
    harness.join(carry, lead(far), `clock of board ${other.id}`);
  }
}
