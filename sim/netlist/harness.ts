import { LOGIC, mayStayOpen, type LogicType } from "../parts/logic.js";
import { usualRatedVolts } from "../parts/leakage.js";
import { PULL_DOWN } from "../parts/startpulse.js";
import { farads as faradsUnit, ohms as ohmsUnit } from "../units/quantities.js";
import type { Device, End, Goods, Pin, Role, Wire } from "./model.js";

/** A terminal without a pin number. */
export const terminal = (name: string): Pin => ({ name, number: null });

/** The terminal of a device by its name. Throws where there is none. */
export function at(device: Device, name: string): End {
  const pin = device.pins.find((each) => each.name === name);
  if (pin === undefined) throw new Error(`${device.name} has no terminal ${name}`);
  return { device, pin };
}

/** First and second lead of a part, or the only terminal of a rail. */
export const lead = (device: Device, which: 0 | 1 = 0): End => ({ device, pin: device.pins[which]! });

/** Steps of the work, in which wires are numbered. */
const STAGES = ["supply", "timer", "clock", "counter", "drivers", "houses", "boards", "quiet"] as const;
export type Stage = (typeof STAGES)[number];

/** Pieces of a chip and the socket it sits in. */
export const chipGoods = (type: string, pins: number): Goods[] => [
  { what: "chip", value: type, rating: null, count: 1 },
  { what: "socket", value: `${pins} pins`, rating: null, count: 1 },
];

/** Devices and wires in the making; wires are numbered at the end, stage by stage. */
export class Harness {
  readonly devices: Device[] = [];
  stage: Stage = "supply";
  readonly #joined: { readonly stage: Stage; readonly wire: Omit<Wire, "number"> }[] = [];
  readonly #counts = new Map<string, number>();
  readonly plus = this.add({ role: "plus", name: "plus", type: "plus rail of the board", pins: [terminal("rail")], goods: [] });
  readonly minus = this.add({ role: "minus", name: "minus", type: "minus rail of the board", pins: [terminal("rail")], goods: [] });

  /** What capacitors on the board are bought for. */
  readonly workingVolts: number;

  /** @param supplyVolts what the board runs on */
  constructor(readonly supplyVolts: number) {
    this.workingVolts = usualRatedVolts(supplyVolts);
  }

  add(device: Device): Device {
    this.devices.push(device);
    return device;
  }

  /** "R1", "R2", … */
  next(letter: string): string {
    const count = (this.#counts.get(letter) ?? 0) + 1;
    this.#counts.set(letter, count);
    return `${letter}${count}`;
  }

  resistor(name: string, ohms: number, rating = "0.25 W"): Device {
    const value = ohmsUnit.format(ohms);
    return this.part(name, value, ["lead 1", "lead 2"], [{ what: "resistor", value, rating, count: 1 }]);
  }

  /** A capacitor that may be put in either way round. */
  capacitor(name: string, farads: number, kind = "ceramic or film"): Device {
    const value = faradsUnit.format(farads);
    return this.part(name, value, ["lead 1", "lead 2"], [{ what: "capacitor", value, rating: `${this.workingVolts} V, ${kind}`, count: 1 }]);
  }

  /** A capacitor that must not be turned round. */
  electrolytic(name: string, farads: number): Device {
    const value = faradsUnit.format(farads);
    return this.part(name, value, ["+", "-"], [{ what: "capacitor", value, rating: `${this.workingVolts} V, electrolytic`, count: 1 }]);
  }

  /** A diode; its ring is the cathode. */
  diode(name: string, type = "1N4148"): Device {
    return this.part(name, type, ["anode", "cathode"], [{ what: "diode", value: type, rating: null, count: 1 }]);
  }

  /** A part with two leads. */
  part(name: string, type: string, leads: readonly [string, string], goods: readonly Goods[]): Device {
    return this.add({ role: "part", name, type, pins: leads.map(terminal), goods });
  }

  /** A logic chip of the catalogue, fed and with its capacitor against interference. */
  chip(role: Role, name: string, type: LogicType): Device {
    const { pins, name: what } = LOGIC[type];
    const device = this.add({
      role,
      name,
      type: `${type} type: ${what}`,
      pins: pins.map((pin, i) => ({ name: pin, number: i + 1 })),
      goods: chipGoods(type, pins.length),
    });
    this.feed(device, "VDD", "VSS");
    return device;
  }

  /** Plus and minus for a device, with 100 nF close to it where it is a chip (common practice, no source). */
  feed(device: Device, plus: string, minus: string): void {
    this.in("supply", () => {
      this.fromPlus(at(device, plus), "supply");
      this.toMinus(at(device, minus), "supply");
    });
    this.quiet(device.name);
  }

  /** The capacitor against interference of a device. */
  quiet(whose: string): void {
    this.in("quiet", () => {
      const c = this.capacitor(this.next("C"), 100e-9, "ceramic");
      this.fromPlus(lead(c), `close to ${whose}, short leads`);
      this.toMinus(lead(c, 1), `close to ${whose}, short leads`);
    });
  }

  join(from: End, to: End, purpose: string, houses: readonly number[] = []): void {
    this.#joined.push({ stage: this.stage, wire: { from, to, purpose, houses } });
  }

  fromPlus(to: End, purpose: string, houses: readonly number[] = []): void {
    this.join(lead(this.plus), to, purpose, houses);
  }

  toMinus(from: End, purpose: string): void {
    this.join(from, lead(this.minus), purpose);
  }

  /** Joins ends one after the other. */
  chain(ends: readonly End[], purpose: string): void {
    ends.slice(1).forEach((end, i) => this.join(ends[i]!, end, purpose));
  }

  /** 100 kΩ to minus, so that the input is low when its wire comes off. */
  pullDown(end: End, name = this.next("R")): Device {
    const r = this.resistor(name, PULL_DOWN.value);
    this.join(end, lead(r), "low when the wire comes off");
    this.toMinus(lead(r, 1), "low when the wire comes off");
    return r;
  }

  /** Does something in another stage of the work. */
  in(stage: Stage, work: () => void): void {
    const before = this.stage;
    this.stage = stage;
    work();
    this.stage = before;
  }

  /** Inputs of logic chips that nothing drives go to minus. */
  closeInputs(): void {
    const used = new Set(this.#joined.flatMap(({ wire: { from, to } }) => [from.pin, to.pin]));
    for (const device of this.devices.filter(({ role }) => ["counter", "gate", "divider"].includes(role))) {
      for (const pin of device.pins) {
        if (pin.number === null || used.has(pin) || mayStayOpen(pin.name)) continue;
        this.toMinus({ device, pin }, "not used");
      }
    }
  }

  /** The wires, numbered from 1. */
  wires(): Wire[] {
    return STAGES.flatMap((stage) => this.#joined.filter((each) => each.stage === stage)).map(({ wire }, i) => ({ number: i + 1, ...wire }));
  }
}

/** Gates of one type, handed out one after the other from as many chips as that takes. */
export class Gates {
  #chip: Device | null = null;
  #next = 0;
  #chips = 0;

  constructor(
    private readonly harness: Harness,
    private readonly type: LogicType,
    private readonly inputs: readonly (readonly string[])[],
    private readonly outputs: readonly string[],
    private readonly name: string,
  ) {}

  /** Joins the ends to the inputs of the next gate, the rest of which go to minus (one end: to all of two). Returns its output. */
  gate(from: readonly End[], purpose: string): End {
    if (this.#chip === null || this.#next === this.outputs.length) {
      this.#chips++;
      this.#chip = this.harness.chip("gate", this.#chips === 1 ? this.name : `${this.name} ${this.#chips}`, this.type);
      this.#next = 0;
    }
    const chip = this.#chip;
    const names = this.inputs[this.#next]!;
    const output = at(chip, this.outputs[this.#next]!);
    this.#next++;
    from.forEach((end, i) => this.harness.join(end, at(chip, names[i]!), purpose));
    if (from.length === 1 && names.length === 2) this.harness.join(at(chip, names[0]!), at(chip, names[1]!), purpose);
    return output;
  }
}

const QUAD_INPUTS = [["A1", "B1"], ["A2", "B2"], ["A3", "B3"], ["A4", "B4"]] as const;
const QUAD_OUTPUTS = ["Y1", "Y2", "Y3", "Y4"] as const;

/** Gates of two inputs: NOR (4001), NAND (4011) or exclusive-OR (4070). */
export const quadGates = (harness: Harness, type: "4001" | "4011" | "4070", name: string): Gates =>
  new Gates(harness, type, QUAD_INPUTS, QUAD_OUTPUTS, name);

/** NOR gates of four inputs. */
export const fourInputNors = (harness: Harness, name: string): Gates =>
  new Gates(harness, "4002", [["A1", "B1", "C1", "D1"], ["A2", "B2", "C2", "D2"]], ["Y1", "Y2"], name);

/** Inverters. */
export const inverters = (harness: Harness, name: string): Gates =>
  new Gates(harness, "4069", QUAD_SIX.map(([input]) => [input]), QUAD_SIX.map(([, output]) => output), name);

const QUAD_SIX = [1, 2, 3, 4, 5, 6].map((n) => [`A${n}`, `Y${n}`] as const);
