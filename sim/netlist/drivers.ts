import { outputResistance } from "../parts/counters.js";
import { DARLINGTON_INPUT, DARLINGTON_PINS, DRIVERS } from "../parts/drivers.js";
import { driverPackages, type DriverPackage } from "../parts/packages.js";
import { HIGH_SHARE, PULL_DOWN } from "../parts/startpulse.js";
import { preferredBetween } from "../units/eseries.js";
import type { Board } from "../model/scenario.js";
import { at, chipGoods, lead, terminal, type Harness } from "./harness.js";
import type { Device, End, Pin } from "./model.js";

/** A driver package with the counter outputs on its channels, the first channel first. */
export interface Driver {
  readonly device: Device;
  readonly channels: DriverPackage;
}

const darlingtonPins: readonly Pin[] = [
  ...DARLINGTON_PINS.inputs.map((number, k) => ({ name: `IN${k + 1}`, number })),
  { name: "GND", number: DARLINGTON_PINS.ground },
  { name: "COM", number: DARLINGTON_PINS.common },
  ...DARLINGTON_PINS.outputs.map((number, k) => ({ name: `OUT${k + 1}`, number })),
];

const isMosfet = ({ driver }: Board): boolean => driver.kind === "mosfet";

/** The driver packages of a board, numbered from 1, at minus. */
export function addDrivers(harness: Harness, board: Board): Driver[] {
  const { kind } = board.driver;
  return driverPackages(board).map((channels, p) => {
    const mosfet = kind === "mosfet";
    const device = harness.add({
      role: "driver",
      name: `driver ${p + 1}`,
      type: DRIVERS[kind].name,
      pins: mosfet ? ["gate", "drain", "source"].map(terminal) : darlingtonPins.map((pin) => ({ ...pin })),
      goods: mosfet ? [{ what: "chip", value: "logic-level MOSFET", rating: null, count: 1 }] : chipGoods("2803", 18),
    });
    harness.in("supply", () => harness.toMinus(at(device, mosfet ? "source" : "GND"), "supply"));
    return { device, channels };
  });
}

/** The channel's terminal to which lamps go. */
export function outletOf(board: Board, drivers: readonly Driver[], output: number): End {
  for (const { device, channels } of drivers) {
    const k = channels.indexOf(output);
    if (k >= 0) return at(device, isMosfet(board) ? "drain" : `OUT${k + 1}`);
  }
  throw new Error(`output ${output} has no driver`);
}

/**
 * Counter outputs to driver inputs; inputs that nothing drives to minus. An output to which logic listens as well gets a
 * resistor where the driver would pull it too low to be heard; a gate gets a pull-down.
 */
export function wireInputs(harness: Harness, board: Board, outputs: readonly End[], heard: ReadonlySet<number>, drivers: readonly Driver[]): void {
  for (const { device, channels } of drivers) {
    channels.forEach((output, k) => {
      const houses = [...new Set(board.outputs[output]!.map(({ house }) => house))];
      const input = at(device, isMosfet(board) ? "gate" : `IN${k + 1}`);
      const between = heard.has(output) && !isMosfet(board) ? unloading(harness.supplyVolts) : null;
      if (between === null) {
        harness.join(outputs[output]!, input, `output ${output}`, houses);
      } else {
        const r = harness.resistor(`R in ${output}`, between);
        harness.join(outputs[output]!, lead(r), `output ${output}, not loaded too much`, houses);
        harness.join(lead(r, 1), input, `output ${output}`, houses);
      }
      if (isMosfet(board)) harness.pullDown(input);
    });
    if (isMosfet(board)) continue;
    for (let k = channels.length; k < DARLINGTON_PINS.inputs.length; k++) {
      harness.toMinus(at(device, `IN${k + 1}`), "this channel is not used");
    }
  }
}

/** Volts at a counter output that drives a Darlington channel through a resistor in ohms. */
function loadedHigh(volts: number, ohms: number): number {
  const own = outputResistance(volts);
  const amps = Math.max(0, volts - DARLINGTON_INPUT.volts.value) / (own + DARLINGTON_INPUT.ohms.value + ohms);
  return volts - amps * own;
}

/** The least E12 resistor with which an output is still high for logic; null where none is needed. */
function unloading(volts: number): number | null {
  const enough = (ohms: number): boolean => loadedHigh(volts, ohms) >= HIGH_SHARE.value * volts;
  if (enough(0)) return null;
  return preferredBetween("E12", 100, PULL_DOWN.value).find(enough) ?? PULL_DOWN.value;
}
