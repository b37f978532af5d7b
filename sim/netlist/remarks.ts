import { DARLINGTON_INPUT } from "../parts/drivers.js";
import { outputResistance } from "../parts/counters.js";
import type { Board, Scenario } from "../model/scenario.js";
import { volts } from "../units/quantities.js";
import { plain } from "../units/text.js";
import { carryPin, isDecade } from "./counters.js";
import { isChip, type Device } from "./model.js";

/** Below this share of its supply a 4000-series input may miss a pulse (common practice, no source). */
const HIGH = 0.7;
/** Supply up to which the output of a bipolar timer is too low for a 4000-series input to be sure of (common practice, no source). */
const LOW_SUPPLY = 6;

/** What whoever solders board `b` has to know besides its wires. */
export function remarks(scenario: Scenario, b: number, devices: readonly Device[]): string[] {
  const board = scenario.boards[b]!;
  return [
    ...supplyRemarks(scenario),
    "Common practice, no source: 100 nF between plus and minus close to each chip, with short leads. These capacitors are not numbered.",
    ...blockRemarks(board, devices),
    ...timerRemarks(scenario, board),
    ...counterRemarks(board),
    ...carryRemarks(scenario, b),
    ...driverRemarks(board),
    ...houseRemarks(scenario, b),
  ];
}

function supplyRemarks({ supply }: Scenario): string[] {
  const { regulator } = supply;
  const out = volts.format(supply.volts);
  return [
    ...(regulator === null
      ? []
      : [
          `The regulator makes ${out} out of ${volts.format(regulator.input)}, for the whole display. Its pins differ by type: take them from its data sheet, ` +
            "and solder the capacitors that it asks for to its input and output.",
        ]),
  ];
}

function blockRemarks({ timer, counter }: Board, devices: readonly Device[]): string[] {
  const blocks = devices.filter((device) => ["timer", "divider", "counter"].includes(device.role) && !isChip(device)).map(({ name }) => name);
  if (blocks.length === 0) return [];
  const programmed = !isDecade(counter) && (timer.kind === "quartz" || timer.kind === "measured");
  return [
    `Broken outlines (${blocks.join(", ")}) stand for chips whose pins are not in this program's catalogue. A dash stands for the pin: take it from the data ` +
      "sheet, and join inputs that nothing drives to plus or minus as it says.",
    ...(programmed ? ["Timer and counter may be one programmed controller; the clock wire is then inside it."] : []),
    ...(blocks.includes("counter") ? ["The counter goes on by one at each rising edge of its clock. Many binary counters count at the falling edge: such a one needs an inverter before it."] : []),
    ...(blocks.includes("counter") && counter.powerUp === "reset" ? ["The counter must begin at its first step at every switch-on: wire or program its reset for that."] : []),
    ...(blocks.includes("divider") ? ["The divider must begin anew at every switch-on, or the first step is shorter than planned: wire its reset for that."] : []),
  ];
}

function timerRemarks({ supply }: Scenario, { timer }: Board): string[] {
  if (timer.kind !== "astable") return [];
  return [
    ...(timer.trimmer === null
      ? []
      : [
          "Trimmer: the wire at its start goes to the end that the wiper reaches when the knob is turned fully anticlockwise, so that clockwise makes " +
            "steps longer. Join the other end of the track to the wiper: a worn wiper then does not stop the timer.",
        ]),
    ...(timer.c.type === "film" ? [] : ["C: if it has a plus and a minus side, plus goes to pin 6 of the timer."]),
    ...(timer.chip === "bipolar" && supply.volts <= LOW_SUPPLY
      ? ["The output of a bipolar timer stays about 1.5 V below plus, too low for the counter at this supply: add 10 kΩ from pin 3 to plus (common practice, no source)."]
      : []),
  ];
}

function counterRemarks({ counter }: Board): string[] {
  if (!isDecade(counter)) return [];
  return [
    "Counter outputs without a wire stay open; its inputs must not.",
    ...(counter.powerUp === "reset"
      ? ["The parts for the reset at switch-on are common practice, no source. Diodes are of the 1N4148 type; the ring is the cathode."]
      : []),
  ];
}

function carryRemarks({ boards, supply }: Scenario, b: number): string[] {
  const { timer, counter, driver, outputs } = boards[b]!;
  const carries = boards.some((other) => other.timer.kind === "carry" && other.timer.from === b);
  const source = timer.kind === "carry" ? boards[timer.from]! : null;
  const unknown = (source !== null && source.counter.kind !== "ring") || (carries && counter.kind !== "ring");
  const loaded = carries && carryPin(counter).name !== "CARRY" && counter.kind === "ring" && outputs[0]!.length > 0 && driver.kind === "darlington-8";
  const ohms = outputResistance(supply.volts);
  const high = supply.volts - (Math.max(0, supply.volts - DARLINGTON_INPUT.volts.value) * ohms) / (ohms + DARLINGTON_INPUT.ohms.value);
  return [
    ...(source === null && !carries
      ? []
      : ["Boards that clock one another need a common minus. The one supply of this display gives it to them; should they ever be fed from two, join minus to minus."]),
    ...(source === null ? [] : [`This board has no timer: board ${source.id} clocks it each time it comes back to its first step.`]),
    ...(unknown
      ? ["The terminal carry is whatever rises as that counter comes back to its first step. Where its chip offers none, it has to be made from its outputs."]
      : []),
    ...(loaded && high < HIGH * supply.volts
      ? [
          `Output 0 of the counter drives a Darlington channel besides the other board's clock, and may reach no more than ${plain(high, 2)} V, which that clock ` +
            "may miss: leave output 0 without houses, or take MOSFETs.",
        ]
      : []),
  ];
}

function driverRemarks({ driver, outputs }: Board): string[] {
  if (outputs.every((loads) => loads.length === 0)) return [];
  return driver.kind === "mosfet"
    ? [
        "Which pin of a MOSFET is gate, drain or source differs by type and maker: take it from the data sheet.",
        "Solder 100 kΩ from each gate to minus: without it a MOSFET whose gate wire comes off may stay on, or glow (common practice, no source). These resistors are not numbered.",
      ]
    : ["Pin 10 of a driver (COM) stays open: it is for coils. A channel that is not used has its input at minus and its output open."];
}

function houseRemarks({ boards }: Scenario, b: number): string[] {
  const housesOf = (outputs: Board["outputs"]): number[] => outputs.flat().map(({ house }) => house);
  const own = housesOf(boards[b]!.outputs);
  if (own.length === 0) return [];
  const elsewhere = new Set(boards.flatMap(({ outputs }, other) => (other === b ? [] : housesOf(outputs))));
  return [
    "Each wire to a house has lamps of its own, joined in parallel where there are several. LEDs need a series resistor each, unless it is built in, and have their plus side at plus.",
    ...(own.some((house) => elsewhere.has(house)) ? ["A house that another board lights too needs one plus wire only."] : []),
  ];
}
