import { ohms } from "../units/quantities.js";
import { isChip, type Device, type Netlist, type Pin } from "./model.js";

/** Where a pin of an empty socket lies: at the supply's plus, or at its minus. */
export interface SettledPin {
  readonly device: Device;
  readonly pin: Pin;
  readonly rail: "plus" | "minus";
}

/** A meter of 10 MΩ reads less than 1 % too little through this. Ohms. */
const MOST_OHMS = 100e3;

/**
 * The pins of a board's chips that show the supply's voltage, or none, while all chips are out of their sockets: those that wires
 * and resistors of at most 100 kΩ lead to one rail alone. No current flows there, so they lie at that rail's voltage (Ohm's law).
 */
export function settledPins({ devices, wires }: Netlist): SettledPin[] {
  const nodeOf = (device: Device, pin: Pin): string => `${devices.indexOf(device)} ${device.role === "plus" || device.role === "minus" ? "" : pin.name}`;
  const beside = new Map<string, { readonly to: string; readonly ohms: number }[]>();
  const join = (a: string, b: string, through: number): void => {
    for (const [from, to] of [[a, b], [b, a]] as const) beside.set(from, [...(beside.get(from) ?? []), { to, ohms: through }]);
  };
  for (const { from, to } of wires) join(nodeOf(from.device, from.pin), nodeOf(to.device, to.pin), 0);
  for (const device of devices) {
    const value = device.role === "part" && device.pins.length === 2 ? ohms.parse(device.type) : null;
    // a trimmer may stand anywhere, and at its end it joins what it lies between
    if (value !== null && device.type.includes("Ω")) join(nodeOf(device, device.pins[0]!), nodeOf(device, device.pins[1]!), value);
  }
  const reach = (rail: "plus" | "minus"): Map<string, number> => {
    const start = devices.find(({ role }) => role === rail);
    const far = new Map<string, number>();
    const queue = start === undefined ? [] : [{ node: nodeOf(start, start.pins[0]!), ohms: 0 }];
    for (let next = queue.shift(); next !== undefined; next = queue.shift()) {
      if ((far.get(next.node) ?? Infinity) <= next.ohms) continue;
      far.set(next.node, next.ohms);
      for (const { to, ohms: through } of beside.get(next.node) ?? []) queue.push({ node: to, ohms: next.ohms + through });
    }
    return far;
  };
  const [plus, minus] = [reach("plus"), reach("minus")];
  return devices.filter(isChip).flatMap((device) =>
    device.pins.flatMap((pin): SettledPin[] => {
      const [high, low] = [plus.get(nodeOf(device, pin)), minus.get(nodeOf(device, pin))];
      if (high !== undefined && low === undefined && high <= MOST_OHMS) return [{ device, pin, rail: "plus" }];
      return low !== undefined && high === undefined && low <= MOST_OHMS ? [{ device, pin, rail: "minus" }] : [];
    }),
  );
}
