import { DARLINGTON_PINS, DRIVERS } from "../parts/drivers.js";
import { driverPackages, type DriverPackage } from "../parts/packages.js";
import { houseName } from "../model/housename.js";
import type { Board, Scenario } from "../model/scenario.js";
import { outputName } from "./counters.js";
import { at, terminal, type Harness } from "./harness.js";
import type { Device, Pin } from "./model.js";

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

/** The driver packages of a board, numbered from 1. */
export function driversOf(board: Board): Driver[] {
  const { kind } = board.driver;
  return driverPackages(board).map((channels, p) => ({
    device: {
      role: "driver",
      name: `driver ${p + 1}`,
      type: DRIVERS[kind].name,
      pins: kind === "mosfet" ? ["gate", "drain", "source"].map(terminal) : darlingtonPins.map((pin) => ({ ...pin })),
    },
    channels,
  }));
}

const isMosfet = ({ driver }: Board): boolean => driver.kind === "mosfet";

/** Name of the terminal by which a driver is joined to minus. */
export const groundName = (board: Board): string => (isMosfet(board) ? "source" : "GND");

/** Counter outputs to driver inputs; inputs that nothing drives to minus. */
export function wireInputs(harness: Harness, board: Board, counter: Device, drivers: readonly Driver[]): void {
  const pins = new Map(counter.pins.map((pin) => [pin.name, pin]));
  for (const { device, channels } of drivers) {
    channels.forEach((output, k) => {
      const houses = [...new Set(board.outputs[output]!.map(({ house }) => house))];
      const from = { device: counter, pin: pins.get(outputName(board.counter, output))! };
      harness.join(from, at(device, isMosfet(board) ? "gate" : `IN${k + 1}`), `output ${output}`, houses);
    });
    if (isMosfet(board)) continue;
    for (let k = channels.length; k < DARLINGTON_PINS.inputs.length; k++) {
      harness.toMinus(at(device, `IN${k + 1}`), "this channel is not used");
    }
  }
}

/** Driver outputs to the houses, and the houses' other side to plus. */
export function wireHouses(harness: Harness, board: Board, drivers: readonly Driver[], scenario: Scenario): void {
  const loads = drivers.flatMap(({ device, channels }) =>
    channels.flatMap((output, k) =>
      board.outputs[output]!.map(({ house, lamps, lamp }) => ({
        output,
        house,
        from: at(device, isMosfet(board) ? "drain" : `OUT${k + 1}`),
        lamps: `${lamps} × ${scenario.lamps[lamp]!.id}, output ${output}`,
      })),
    ),
  );
  const terminals = new Map<number, Set<string>>();
  for (const { house, lamps } of loads) terminals.set(house, (terminals.get(house) ?? new Set()).add(lamps));
  const devices = new Map<number, Device>();
  for (const [house, names] of terminals) {
    const pins = [...names, PLUS_SIDE].map(terminal);
    devices.set(house, harness.add({ role: "house", name: houseName(scenario, house), type: "house", pins }));
  }
  for (const { house, from, lamps, output } of loads) {
    harness.join(from, at(devices.get(house)!, lamps), `output ${output}`, [house]);
  }
  for (const [house, device] of devices) harness.fromPlus(at(device, PLUS_SIDE), "plus of the house", [house]);
}

const PLUS_SIDE = "plus side";
