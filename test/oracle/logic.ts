/** Chips of the 4000 series as their data sheets describe them, wired as a netlist says: runs a board's counter pulse by pulse. */
import type { Device, Netlist, Pin } from "../../sim/netlist/index.js";

type Levels = ReadonlyMap<string, boolean>;

/** What a chip does: from its levels before and now to those at its outputs. */
type Behaviour = (before: Levels, now: Levels) => Map<string, boolean>;

const rises = (before: Levels, now: Levels, pin: string): boolean => before.get(pin) === false && now.get(pin) === true;
const falls = (before: Levels, now: Levels, pin: string): boolean => before.get(pin) === true && now.get(pin) === false;

type Bits = (count: number) => number;

const gates =
  (pins: readonly (readonly [output: string, ...inputs: string[]])[], value: (inputs: readonly boolean[]) => boolean): (() => Behaviour) =>
  () =>
  (_, now) =>
    new Map(pins.map(([output, ...inputs]) => [output, value(inputs.map((pin) => now.get(pin)!))]));

const QUAD = [1, 2, 3, 4].map((n) => [`Y${n}`, `A${n}`, `B${n}`] as const);
const none = (inputs: readonly boolean[]): boolean => !inputs.includes(true);

/** HEF4015B: data goes into stage 1 and all shift on at the rising clock; reset high empties it. */
function shiftRegister(random: Bits): Behaviour {
  const state = { A: random(4), B: random(4) };
  return (before, now) => {
    const levels = new Map<string, boolean>();
    for (const half of ["A", "B"] as const) {
      if (rises(before, now, `CLOCK ${half}`)) state[half] = ((state[half] << 1) & 15) | Number(before.get(`DATA ${half}`)!);
      if (now.get(`RESET ${half}`)) state[half] = 0;
      for (let i = 0; i < 4; i++) levels.set(`Q${i + 1}${half}`, ((state[half] >> i) & 1) === 1);
    }
    return levels;
  };
}

/** HEF4017B, section 1: counts the rising clock while inhibit is low, and the falling inhibit while the clock is high. */
function decade(random: Bits): Behaviour {
  let count = random(4) % 10;
  return (before, now) => {
    const counts = (rises(before, now, "CLOCK") && !now.get("INHIBIT")!) || (falls(before, now, "INHIBIT") && now.get("CLOCK")!);
    if (counts) count = (count + 1) % 10;
    if (now.get("RESET")) count = 0;
    return new Map([...Array.from({ length: 10 }, (_, q): [string, boolean] => [`Q${q}`, q === count]), ["CARRY", count < 5]]);
  };
}

/** CD4020BC, CD4040BC, CD4060BC: count the falling clock; reset high empties them. */
function ripple(random: Bits): Behaviour {
  let count = random(14);
  return (before, now) => {
    if (falls(before, now, "CLOCK")) count = (count + 1) % 2 ** 14;
    if (now.get("RESET")) count = 0;
    return new Map(Array.from({ length: 14 }, (_, i) => [`Q${i + 1}`, ((count >> i) & 1) === 1]));
  };
}

/** HEF4520B, section 1: counts the rising clock while enable is high, and the falling enable while the clock is low. */
function binary(random: Bits): Behaviour {
  const state = { A: random(4), B: random(4) };
  return (before, now) => {
    const levels = new Map<string, boolean>();
    for (const half of ["A", "B"] as const) {
      const [clock, enable] = [`CLOCK ${half}`, `ENABLE ${half}`];
      const counts = (rises(before, now, clock) && now.get(enable)!) || (falls(before, now, enable) && !now.get(clock)!);
      if (counts) state[half] = (state[half] + 1) % 16;
      if (now.get(`RESET ${half}`)) state[half] = 0;
      for (let i = 0; i < 4; i++) levels.set(`Q${i + 1}${half}`, ((state[half] >> i) & 1) === 1);
    }
    return levels;
  };
}

const BEHAVIOURS: Readonly<Record<string, (random: Bits) => Behaviour>> = {
  "4001": gates(QUAD, none),
  "4002": gates([["Y1", "A1", "B1", "C1", "D1"], ["Y2", "A2", "B2", "C2", "D2"]], none),
  "4011": gates(QUAD, (inputs) => inputs.includes(false)),
  "4015": shiftRegister,
  "4017": decade,
  "4020": ripple,
  "4040": ripple,
  "4060": ripple,
  "4069": gates([1, 2, 3, 4, 5, 6].map((n) => [`Y${n}`, `A${n}`] as const), none),
  "4070": gates(QUAD, ([a, b]) => a !== b),
  "4078": () => {
    const eight = ["A1", "B1", "C1", "D1", "E1", "F1", "G1", "H1"];
    const [nor, or] = [gates([["NOR", ...eight]], none)(), gates([["OR", ...eight]], (inputs) => inputs.includes(true))()];
    return (before, now) => new Map([...nor(before, now), ...or(before, now)]);
  },
  "4520": binary,
};

/** Units of gate delay that R late and C late take. */
const LATE = 12;

/** A board's logic, switched on. */
export class Bench {
  readonly #net = new Map<Pin, number>();
  readonly #chips: { readonly device: Device; readonly run: Behaviour; before: Map<string, boolean>; outputs: Map<string, boolean> }[];
  readonly #rails: { readonly plus: number; readonly minus: number };
  readonly #diodes: (readonly [from: number, to: number])[];
  readonly #late: { readonly from: number; readonly to: number; readonly held: boolean[] } | null;
  readonly #clock: number;
  readonly #start: number | null;
  #driven = new Map<number, boolean>();
  #levels = new Map<number, boolean>();

  /** @param random bits in which flip-flops wake up */
  constructor(
    private readonly netlist: Netlist,
    random: Bits,
  ) {
    const { devices, wires } = netlist;
    devices.forEach(({ pins }) => pins.forEach((pin) => this.#net.set(pin, this.#net.size)));
    const through = devices.filter(({ name }) => /^R in /.test(name)).map(({ pins }) => [pins[0]!, pins[1]!] as const);
    for (const [a, b] of [...wires.map(({ from, to }) => [from.pin, to.pin] as const), ...through]) {
      const [x, y] = [this.#net.get(a)!, this.#net.get(b)!];
      for (const [pin, net] of this.#net) if (net === y) this.#net.set(pin, x);
    }
    const pinOf = (name: string, k: number): number => this.#net.get(devices.find((device) => device.name === name)!.pins[k]!)!;
    this.#rails = { plus: pinOf("plus", 0), minus: pinOf("minus", 0) };
    if (this.#rails.plus === this.#rails.minus) throw new Error("plus meets minus");
    this.#diodes = ["D start", "D round"].filter((name) => devices.some((device) => device.name === name)).map((name) => [pinOf(name, 0), pinOf(name, 1)]);
    const late = devices.some(({ name }) => name === "R late");
    this.#late = late ? { from: pinOf("R late", 0), to: pinOf("R late", 1), held: Array<boolean>(LATE).fill(false) } : null;
    this.#start = netlist.start === null ? null : pinOf("C start", 1);
    const clock = wires.find(({ purpose, from }) => purpose === "clock" && (from.device.role === "timer" || from.device.role === "board"))!;
    this.#clock = this.#net.get(clock.from.pin)!;
    this.#chips = devices.flatMap((device) => {
      const type = /^(4\d\d\d) type/.exec(device.type)?.[1];
      return type === undefined ? [] : [{ device, run: BEHAVIOURS[type]!(random), before: new Map(), outputs: new Map() }];
    });
    // the timer starts high; the reset is high while its capacitor charges
    this.#driven.set(this.#clock, true);
    if (this.#start !== null) this.#driven.set(this.#start, true);
    this.#settle();
    if (this.#start !== null) this.#driven.delete(this.#start);
    this.#settle();
  }

  /** One period of the timer: low, then high again. */
  period(): void {
    this.fall();
    this.rise();
  }

  fall(): void {
    this.#driven.set(this.#clock, false);
    this.#settle();
  }

  rise(): void {
    this.#driven.set(this.#clock, true);
    this.#settle();
  }

  /** Outputs that are on. */
  on(): number[] {
    return this.netlist.outputs.flatMap(({ pin }, output) => (this.level(pin) ? [output] : []));
  }

  level(pin: Pin): boolean {
    return this.#levels.get(this.#net.get(pin)!) ?? false;
  }

  #settle(): void {
    const rest = this.#late === null ? 1 : LATE + 1;
    for (let quiet = 0, rounds = 0; quiet < rest; rounds++) {
      if (rounds > 2000) throw new Error("the logic does not come to rest");
      quiet = this.#round() ? 0 : quiet + 1;
    }
  }

  /** One gate delay; true when something changed. */
  #round(): boolean {
    const levels = new Map<number, boolean>([...this.#driven, [this.#rails.plus, true], [this.#rails.minus, false]]);
    for (const { device, outputs } of this.#chips) {
      for (const pin of device.pins) {
        const level = outputs.get(pin.name);
        if (level === undefined) continue;
        const net = this.#net.get(pin)!;
        if (levels.has(net) && levels.get(net) !== level) throw new Error(`${device.name} ${pin.name} drives against something`);
        levels.set(net, level);
      }
    }
    for (const [from, to] of this.#diodes) if (levels.get(from)) levels.set(to, true);
    if (this.#late !== null) {
      const { from, to, held } = this.#late;
      held.push(levels.get(from) ?? false);
      levels.set(to, held.shift()!);
    }
    let changed = [...levels].some(([net, level]) => this.#levels.get(net) !== level);
    this.#levels = levels;
    for (const chip of this.#chips) {
      const now = new Map(chip.device.pins.map((pin) => [pin.name, levels.get(this.#net.get(pin)!) ?? false]));
      const outputs = chip.run(chip.before, now);
      changed ||= [...outputs].some(([pin, level]) => chip.outputs.get(pin) !== level);
      chip.before = now;
      chip.outputs = outputs;
    }
    return changed;
  }
}
