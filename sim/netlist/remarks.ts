import { mayStayOpen } from "../parts/logic.js";
import { alwaysThroughDiode, needsDiode, outletsOf } from "../parts/joined.js";
import { SLOWEST_RAMP, type StartPulse } from "../parts/startpulse.js";
import { houseName } from "../model/housename.js";
import type { Board, Scenario } from "../model/scenario.js";
import { volts } from "../units/quantities.js";
import { plain, spokenDuration } from "../units/text.js";
import { lampsOf, seriesInWords, togetherLamps } from "./lamps.js";
import { isChip, type Device, type Wire } from "./model.js";
import { isGuarded } from "./timers.js";

/** Supply up to which the output of a bipolar timer is too low for a 4000-series input to be sure of (common practice, no source). */
const LOW_SUPPLY = 6;

interface Wired {
  readonly devices: readonly Device[];
  readonly wires: readonly Wire[];
  readonly start: StartPulse | null;
  readonly counter: readonly string[];
  readonly divider: readonly string[];
}

/** What whoever solders board `b` has to know besides its wires. */
export function remarks(scenario: Scenario, b: number, wired: Wired): string[] {
  const board = scenario.boards[b]!;
  return [
    ...supplyRemarks(scenario),
    ...timerRemarks(scenario, board),
    ...wired.divider,
    ...wired.counter,
    ...startRemarks(wired.start, board),
    ...carryRemarks(scenario, b),
    ...driverRemarks(board),
    ...houseRemarks(scenario, b),
    ...openRemarks(wired),
  ];
}

function supplyRemarks({ supply }: Scenario): string[] {
  const { regulator } = supply;
  const fuse = "F1 protects the thin wires of this board; it blows slowly, so that lamps may be switched on.";
  if (regulator === null) return [fuse];
  return [
    fuse,
    `The regulator makes ${volts.format(supply.volts)} out of ${volts.format(regulator.input)}, for the whole display. Its pins differ ` +
      "by type: take them " +
      "from its data sheet, and solder the capacitors that it asks for to its input and output.",
  ];
}

function timerRemarks({ supply }: Scenario, { timer }: Board): string[] {
  if (timer.kind === "measured") return ["The timer is built and timed already: its own parts are not on this card."];
  if (timer.kind === "quartz") {
    return ["Missing chip: the timer is a programmed controller with a quartz. It may be the counter as well; the clock wire is then " +
      "inside it."];
  }
  if (timer.kind !== "astable") return [];
  return [
    ...(timer.trimmer === null
      ? []
      : [
          "Trimmer: the wire at its start goes to the end that the wiper reaches when the knob is turned fully anticlockwise, so that " +
            "clockwise makes " +
            "steps longer. Join the other end of the track to the wiper: a worn wiper then does not stop the timer.",
        ]),
    ...(timer.c.type === "film" ? [] : ["C: if it has a plus and a minus side, plus goes to the side of Rb."]),
    ...(isGuarded(timer)
      ? [
          "R guard keeps the current small that C drives into pins 2 and 6 when the supply goes: they stand no more than 0.3 V " +
            "above plus " +
            "(ICM7555 data sheet, absolute maximum ratings).",
        ]
      : []),
    ...(timer.discharge === "diode" ? ["D empty lets C run empty into the plus rail when the supply goes; its ring is at plus."] : []),
    ...(timer.chip === "bipolar" && supply.volts <= LOW_SUPPLY
      ? ["The output of a bipolar timer stays about 1.5 V below plus, too low for the counter at this supply: take a CMOS timer."]
      : []),
  ];
}

function startRemarks(start: StartPulse | null, { timer }: Board): string[] {
  if (start === null) return [];
  const { peak, needed, holds } = start;
  const held = `It holds the reset for up to ${spokenDuration(Number(holds.toPrecision(2)))} after switch-on`;
  return [
    `Reset: even when the supply takes ${spokenDuration(SLOWEST_RAMP.value)} to come up, the reset gets to ${plain(peak, 3)} V; it ` +
      `needs ${plain(needed, 3)} V. ` +
      `${held}${timer.kind === "astable" && timer.divide > 1 ? "; pulses of the timer before that do not count." : "."}`,
  ];
}

function carryRemarks({ boards }: Scenario, b: number): string[] {
  const { timer } = boards[b]!;
  const carries = boards.some((other) => other.timer.kind === "carry" && other.timer.from === b);
  const source = timer.kind === "carry" ? boards[timer.from]! : null;
  return [
    ...(source === null && !carries
      ? []
      : ["Boards that clock one another need a common minus. The one supply of this display gives it to them; should they ever be fed " +
        "from two, join minus to minus."]),
    ...(source === null ? [] : [`This board has no timer: board ${source.id} clocks it each time it comes back to its first step.`]),
  ];
}

function driverRemarks({ driver, outputs }: Board): string[] {
  if (outputs.every((loads) => loads.length === 0)) return [];
  return driver.kind === "mosfet"
    ? ["Which pin of a MOSFET is gate, drain or source differs by type and maker: take it from the data sheet, and write it down here."]
    : ["Pin 10 of a driver (COM) stays open: it is for coils. A channel that is not used has its input at minus and its output open."];
}

function houseRemarks(scenario: Scenario, b: number): string[] {
  const { boards, houses } = scenario;
  const { outputs, driver } = boards[b]!;
  const own = [...new Set(outputs.flatMap((loads) => loads.map(({ house }) => house)))];
  if (own.length === 0) return [];
  const shared = own.filter((house) => houses[house]!.wired === "together" && outletsOf(scenario, house).length > 1);
  const apart = own.filter((house) => houses[house]!.wired === "apart" && outletsOf(scenario, house).length > 1);
  const diodes = outputs.some((loads, output) => loads.some(({ house }) => needsDiode(scenario, { board: b, output }, house)));
  const strings = own.flatMap((house) => {
    const { wired } = houses[house]!;
    const sets = wired === "together" ? [togetherLamps(scenario, house)] : outputs.map((loads) => lampsOf(loads, house));
    const channel = { driver: driver.kind, diode: alwaysThroughDiode(scenario, house) };
    return [...new Set(sets.flatMap((lamps) => seriesInWords(scenario, lamps, channel) ?? []))].map((text) => `${houseName(scenario, house)}: ${text}`);
  });
  return [
    `Where a house names no lamps it has 1 × ${scenario.lamps[0]!.id}. Several are joined in parallel: one side to plus, the other to ` +
      "the wire from the board.",
    ...(shared.length > 0
      ? ["A house that stands several times has its lamps once: one wire goes there, and the outputs that switch it are joined on " +
        "the board."]
      : []),
    ...(diodes ? ["D1 and so on: the ring is at the driver. Without them an output would light what another output of the same house " +
      "lights besides."] : []),
    ...(apart.length > 0 ? ["Where a house has a wire for each output, each of these wires has lamps of its own; the house needs one " +
      "plus wire only."] : []),
    ...(strings.length > 0 ? [`LEDs, plus side at plus, each string with its series resistor. ${strings.join("; ")}.`] : []),
  ];
}

/** Pins without a wire, so that nobody looks for it. */
function openRemarks({ devices, wires }: Wired): string[] {
  const used = new Set(wires.flatMap(({ from, to }) => [from.pin, to.pin]));
  const open = devices.flatMap((device) => {
    if (!isChip(device) || device.role === "board") return [];
    const pins = device.pins.filter((pin) => pin.number !== null && !used.has(pin) && (mayStayOpen(pin.name) || device.role !== "gate"));
    return pins.length === 0 ? [] : [`${device.name} ${pins.map(({ number }) => number).join(", ")}`];
  });
  return open.length === 0 ? [] : [`Pins that stay open, outputs nobody needs and pins without connection: ${open.join("; ")}. No ` +
    "other pin may."];
}
