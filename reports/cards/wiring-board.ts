import { isChip, type Device, type Netlist, type Pin, type Role, type Wire } from "../../sim/netlist/index.js";
import { AREA } from "./sheet.js";
import { textWidth } from "../pictures/text.js";
import { badgeWidth, SMALL, type Point } from "./wiring-plan.js";

/** A board's connections, to be looked up by device and pin. */
export class Harnessed {
  readonly #wires = new Map<Pin, Wire[]>();
  readonly #parts: ReadonlyMap<string, Device>;

  constructor(readonly netlist: Netlist) {
    for (const wire of netlist.wires) {
      for (const { pin } of [wire.from, wire.to]) {
        const known = this.#wires.get(pin);
        if (known === undefined) this.#wires.set(pin, [wire]);
        else known.push(wire);
      }
    }
    this.#parts = new Map(this.having("part").map((device) => [device.name, device]));
  }

  having(role: Role): Device[] {
    return this.netlist.devices.filter((device) => device.role === role);
  }

  /** The one device of a role. Throws where there is none. */
  the(role: Role): Device {
    const [device] = this.having(role);
    if (device === undefined) throw new Error(`the board has no ${role}`);
    return device;
  }

  /**
   * True where the counter is one decade counter or one programmed controller, whose wires are drawn from end to end. More
   * chips than that stand by themselves, and their wires end at flags.
   */
  get routed(): boolean {
    return this.having("counter").length === 1 && this.having("gate").length === 0 && !/^(4015|4520)/.test(this.the("counter").type);
  }

  /** The house of this index, as it stands on this board. */
  houseOf(index: number): Device {
    return this.netlist.wires.find(({ to, houses }) => to.device.role === "house" && houses.includes(index))!.to.device;
  }

  part(name: string): Device | undefined {
    return this.#parts.get(name);
  }

  /** Wires at a pin, in order. */
  at(pin: Pin | undefined): readonly Wire[] {
    return (pin === undefined ? undefined : this.#wires.get(pin)) ?? [];
  }

  /** The wire that drives a channel of a driver; null at any other pin. */
  inputAt(pin: Pin): Wire | null {
    if (!/^(IN\d|gate)/.test(pin.name)) return null;
    return this.at(pin).find(({ to }) => to.pin === pin) ?? null;
  }

  /** The wire between two devices at a pin of the first. Throws where there is none. */
  between(device: Device, name: string, other: Device): Wire {
    const wire = this.at(pinNamed(device, name)).find(({ from, to }) => from.device === other || to.device === other);
    if (wire === undefined) throw new Error(`no wire from ${device.name} ${name} to ${other.name}`);
    return wire;
  }

  /** The device that clocks the counter: the timer, or another board. */
  clocking(): Device {
    return this.having("timer")[0] ?? this.clockWire().from.device;
  }

  /** The wire that brings the pulses of the timer, or of another board. */
  clockWire(): Wire {
    const own = this.having("timer")[0];
    return this.netlist.wires.find(({ from, purpose }) => purpose === "clock" && (own === undefined ? from.device.role === "board" : from.device === own))!;
  }

  /** The clock's wire where it is drawn from the timer down to the counter; null where it ends at flags. */
  drawnClock(): Wire | null {
    return this.routed && this.clockWire().to.device.role === "counter" ? this.clockWire() : null;
  }
}

export function pinNamed({ pins }: Device, name: string): Pin | undefined {
  return pins.find((pin) => pin.name === name);
}

/** The lamps of a house that one wire feeds, without the number of the output: "2 × lantern"; nothing for the usual one. */
export function lampsAt({ name }: Pin, usual: string): string {
  return name.replace(/, output \d+$/, "") === `1 × ${usual}` ? "" : name.replace(/, output \d+$/, "").replace(/^1 × (?!.*\+)/, "");
}

/** The end of a wire that is not at this device. */
export function farEnd({ from, to }: Wire, device: Device): Device {
  return from.device === device ? to.device : from.device;
}

/** Where things stand across the sheet, in drawing units from the left. */
export interface Columns {
  /** Left side and width of the counter. */
  readonly counter: number;
  readonly counterWidth: number;
  /** Of the wire that comes down from the timer. */
  readonly clock: number;
  /** Of the first of the wires that run up and down between counter and drivers. */
  readonly tracks: number;
  readonly driver: number;
  readonly driverWidth: number;
  /** Of the first of the wires that run down between driver and houses. */
  readonly fan: number;
  /** Where the wires of one output part. */
  readonly bus: number;
  readonly house: number;
  readonly houseWidth: number;
}

/** Between wires that run side by side. */
export const TRACK = 6;
const TRACKS = 10;

export function columnsOf(board: Harnessed): Columns {
  if (!board.routed) return besides(board, 96, 236);
  const counter = board.the("counter");
  // a pin at the left with both a driver and another board's clock at it needs room for two numbers
  const both = isChip(counter)
    ? counter.pins.map((pin) => board.at(pin)).find((wires) => wires.some(toDriver) && wires.some(toBoard))
    : undefined;
  const left = 70 + (both === undefined ? 0 : badgeWidth(both.filter(toBoard)) + 14);
  const clock = left + 152;
  return { ...besides(board, clock + 8 + (TRACKS - 1) * TRACK + 38, clock), counter: left };
}

/** Columns with the drivers at an x, and the wire down from the timer at another. */
function besides(board: Harnessed, driver: number, clock: number): Columns {
  const widest = badgeWidth(board.netlist.wires.slice(-1));
  // a diode and a second number on the way to the house
  const diode = board.netlist.devices.some(({ name }) => /^D\d+$/.test(name)) ? DIODE_ROOM + widest + textWidth(`D${board.having("part").length}`, SMALL) : 0;
  const fan = driver + 92 + 8;
  const channels = Math.max(1, ...board.having("driver").map(({ pins }) => pins.filter((pin) => board.inputAt(pin) !== null).length));
  const bus = fan + channels * TRACK;
  const house = bus + widest + 9 + diode;
  return {
    counter: 0,
    counterWidth: 100,
    clock,
    tracks: clock + 8,
    driver,
    driverWidth: 92,
    fan,
    bus,
    house,
    houseWidth: AREA.width - house - widest - 21,
  };
}

/** Room that a diode takes on the way to a house, besides the number of its wire. */
const DIODE_ROOM = 17;

const toDriver = ({ to }: Wire): boolean => to.device.role === "driver";
export const toBoard = ({ to }: Wire): boolean => to.device.role === "board";

/** Where a wire from the counter arrives at a driver. */
export interface Arrival {
  readonly wire: Wire;
  readonly at: Point;
}
