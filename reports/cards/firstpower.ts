import { holds } from "../../sim/counters/sequence.js";
import { knobOf } from "../../sim/knob/settings.js";
import { houseName } from "../../sim/model/housename.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { isChip, netlist, type Netlist, type Pin } from "../../sim/netlist/index.js";
import { settledPins } from "../../sim/netlist/settled.js";
import { offSeconds } from "../../sim/timers/switchoff.js";
import { boardTimes } from "../../sim/timers/boardtimes.js";
import { volts } from "../../sim/units/quantities.js";
import { listed, spokenDuration } from "../../sim/units/text.js";
import { cardSheets, type MakeCard } from "./sheet.js";
import { tickedSheets, type Item } from "./ticked.js";

/** How far a reading may be from the supply's voltage, as a share (common practice, no source). */
const NEAR = 0.05;

/** The first-power-on sheet of board `b`: what is looked at, measured and timed before it goes into the display, in order. */
export const firstPowerSheet: MakeCard = (input, b) => {
  const { scenario } = input;
  const { id } = scenario.boards[b]!;
  const net = netlist(scenario, b);
  return cardSheets(
    input,
    {
      name: `first-power-${id}`,
      heading: `First-power-on sheet: board ${id}`,
      description: `What to look at, to measure and to time when board ${id} gets power for the first time, with boxes to tick.`,
    },
    tickedSheets([...looked(net), ...measured(scenario, net), ...lampTest(scenario, b, net), ...timed(scenario, b), ...after(scenario, b)]),
  );
};

const head = (text: string): Item => ({ kind: "head", text });
const tick = (text: string, blank?: string): Item => ({ kind: "tick", text, ...(blank === undefined ? {} : { blank }) });
const plain = (text: string): Item => ({ kind: "plain", text });

function looked({ devices }: Netlist): Item[] {
  const chips = devices.filter(isChip).map(({ name }) => name);
  return [
    head("1. Look, without power"),
    tick("The supply is ready-made, approved, fused and current-limited, and plugged in nowhere yet."),
    tick("Every wire of the wiring card is there, with its number; no joint is grey, none touches its neighbour."),
    tick("Electrolytic capacitors and diodes stand the right way round; the fuse is in its holder."),
    ...(chips.length === 0 ? [] : [tick(`Every socket has its notch as on the wiring card, and is empty: ${listed(chips)} beside it.`)]),
  ];
}

/** Voltages at the pins of the empty sockets. */
function measured({ supply }: Scenario, net: Netlist): Item[] {
  const settled = settledPins(net);
  const [low, high] = [supply.volts * (1 - NEAR), supply.volts * (1 + NEAR)].map((value) => volts.format(Number(value.toPrecision(3))));
  const at = (rail: "plus" | "minus"): string[] => {
    const devices = [...new Set(settled.map(({ device }) => device))];
    return devices.flatMap((device) => {
      const pins = settled.filter((one) => one.device === device && one.rail === rail);
      return pins.length === 0 ? [] : [`${device.name}: ${listed(pins.map(({ pin }) => pinName(pin)))}`];
    });
  };
  return [
    head("2. Supply, without chips"),
    tick(`Supply on: ${volts.format(supply.volts)} from the plus to the minus rail (${low} to ${high}). Nothing gets warm, ` +
      "nothing smells; else off at once.", "found"),
    plain(`Black lead of the meter on the minus rail, red lead on the pins of the empty sockets. ${volts.format(supply.volts)} at:`),
    ...at("plus").map((text) => tick(text)),
    plain("0 V at:"),
    ...at("minus").map((text) => tick(text)),
    tick("Supply off."),
  ];
}

const pinName = ({ name, number }: Pin): string => (number === null ? name : `pin ${number} (${name})`);

/** Each output switched by hand, with the drivers alone in their sockets. */
function lampTest(scenario: Scenario, b: number, { devices, outputs }: Netlist): Item[] {
  const drivers = devices.filter((device) => device.role === "driver" && isChip(device)).map(({ name }) => name);
  const programmed = [...new Set(outputs.map(({ device }) => device))].filter((device) => !isChip(device)).map(({ name }) => name);
  const ready = [
    ...(drivers.length === 0 ? [] : [`put ${listed(drivers)} in place`]),
    ...(programmed.length === 0 ? [] : [`unplug ${listed(programmed)}`]),
  ];
  const tests = scenario.boards[b]!.outputs.flatMap((loads, output) => {
    const end = outputs[output];
    if (loads.length === 0 || end === undefined) return [];
    const names = [...new Set(loads.map(({ house }) => houseName(scenario, house)))];
    return [tick(`Output ${output}, ${end.device.name} ${pinName(end.pin)}: ${listed(names)}`)];
  });
  const first = ready.length === 0 ? "" : `With the supply off, ${listed(ready)}; `;
  return [
    head("3. Lamps, output by output"),
    tick(`${first}all other sockets stay empty. Supply on: every house is dark.`),
    plain("Touch each of these pins with a wire from the plus rail that has 1 kΩ in it. These houses are lit, and no others:"),
    ...tests,
    tick("Supply off; all other chips into their sockets, each with its notch as on the wiring card."),
  ];
}

function timed(scenario: Scenario, b: number): Item[] {
  const { stepSeconds, firstStepSeconds } = boardTimes(scenario)[b]!;
  const { counter, timer } = scenario.boards[b]!;
  const uneven = holds(counter).least !== holds(counter).most ? " (times the hold of its row)" : "";
  const wait = spokenDuration(Math.ceil(offSeconds(scenario, b)));
  const carried = timer.kind === "carry" ? ", one round of the board that clocks it" : "";
  return [
    head("4. First steps, by stopwatch"),
    tick(`Wait ${wait}, switch on and start the watch together: the first step lasts about ` +
      `${spokenDuration(firstStepSeconds)}${uneven}.`, "found"),
    tick(`Each later step lasts about ${spokenDuration(stepSeconds)}${uneven}${carried}.`, "found"),
    tick("Every output comes on in its turn, and after the last one the first again."),
  ];
}

function after(scenario: Scenario, b: number): Item[] {
  return [
    head("5. Leave it so that it is found again"),
    ...(knobOf(scenario, b) === null ? [] : [tick("Set the knob by the knob chart, and mark where it stands with paint.", "knob at")]),
    tick("After an hour with all lamps that can be on: no part too hot to keep a finger on.", "by"),
    tick("Step time, date and name stand in the log sheet.", "date"),
  ];
}
