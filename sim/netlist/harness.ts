import type { Device, End, Pin, Wire } from "./model.js";

/** A terminal without a pin number. */
export const terminal = (name: string): Pin => ({ name, number: null });

/** A part with two leads, such as a resistor. */
export const part = (name: string, type: string, leads: readonly [string, string] = ["lead 1", "lead 2"]): Device => ({
  role: "part",
  name,
  type,
  pins: leads.map(terminal),
});

/** The terminal of a device by its name. Throws where there is none. */
export function at(device: Device, name: string): End {
  const pin = device.pins.find((each) => each.name === name);
  if (pin === undefined) throw new Error(`${device.name} has no terminal ${name}`);
  return { device, pin };
}

/** First and second lead of a part, or the only terminal of a rail. */
export const lead = (device: Device, which: 0 | 1 = 0): End => ({ device, pin: device.pins[which]! });

/** Devices and wires in the making; wires are numbered as they come. */
export class Harness {
  readonly devices: Device[] = [];
  readonly wires: Wire[] = [];
  readonly plus = this.add({ role: "plus", name: "plus", type: "plus rail of the board", pins: [terminal("rail")] });
  readonly minus = this.add({ role: "minus", name: "minus", type: "minus rail of the board", pins: [terminal("rail")] });

  add(device: Device): Device {
    this.devices.push(device);
    return device;
  }

  join(from: End, to: End, purpose: string, houses: readonly number[] = []): void {
    this.wires.push({ number: this.wires.length + 1, from, to, purpose, houses });
  }

  fromPlus(to: End, purpose: string, houses: readonly number[] = []): void {
    this.join(lead(this.plus), to, purpose, houses);
  }

  toMinus(from: End, purpose: string): void {
    this.join(from, lead(this.minus), purpose);
  }
}
