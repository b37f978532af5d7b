import { isChip, type Device, type Pin } from "../../sim/netlist/index.js";
import { INK, PAPER } from "../pictures/colours.js";
import { decimal, lines } from "../pictures/drawing.js";
import { PAD, PITCH, SMALL, type Plan } from "./wiring-plan.js";

/** What is drawn where wires end: chips, blocks, and parts with two leads. */

export interface Terminal {
  readonly pin: Pin;
  readonly x: number;
  readonly y: number;
  /** The side on which its wire leaves: 1 right, -1 left. */
  readonly dir: 1 | -1;
}

export interface Outline {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Height of the chip with so many pins. */
export const chipHeight = (pins: number): number => (pins / 2 - 1) * PITCH + 2 * PAD;

/** Two lines above the outline of a device. */
export function title(plan: Plan, { x, y, width }: Outline, name: string, below: string, room = width + 30): void {
  const middle = x + width / 2;
  plan.drawing.text(middle, y - (below === "" ? 6 : 19), name, { size: SMALL, bold: true, anchor: "middle", room });
  if (below !== "") plan.drawing.text(middle, y - 6, below, { size: SMALL, anchor: "middle", room });
}

/** A chip seen from above, notch at the top: pin 1 at the top left, and on round anticlockwise. Returns its pins. */
export function chip(plan: Plan, device: Device, x: number, y: number, width: number): Terminal[] {
  const pins = device.pins.toSorted((a, b) => a.number! - b.number!);
  const half = pins.length / 2;
  outline(plan, { x, y, width, height: chipHeight(pins.length) }, false);
  plan.drawing.path(`M${decimal(x + width / 2 - 7)} ${decimal(y)}a7 7 0 0 0 14 0`, { fill: "none", stroke: INK, "stroke-width": 1.2 });
  return pins.map((pin, i): Terminal => {
    const left = i < half;
    const row = y + PAD + PITCH * (left ? i : pins.length - 1 - i);
    const terminal: Terminal = { pin, x: left ? x : x + width, y: row, dir: left ? -1 : 1 };
    label(plan, terminal, [String(pin.number), pin.name], width);
    return terminal;
  });
}

/** A block whose terminals may stand anywhere on its sides, with a number where they have one. */
export function block(plan: Plan, shape: Outline, terminals: readonly Terminal[]): void {
  outline(plan, shape, true);
  for (const terminal of terminals) {
    const { name, number } = terminal.pin;
    label(plan, terminal, [number === null ? "" : String(number), name], shape.width);
  }
}

export function outline(plan: Plan, { x, y, width, height }: Outline, broken: boolean): void {
  const dashes = broken ? { "stroke-dasharray": "6 3" } : {};
  plan.drawing.add("rect", { x, y, width, height, fill: PAPER, stroke: INK, "stroke-width": 1.5, ...dashes });
}

/** Pin number at the edge, name beside it, both inside. */
function label(plan: Plan, { x, y, dir }: Terminal, [number, name]: readonly [string, string], width: number): void {
  const anchor = dir < 0 ? "start" : "end";
  const apart = number === "" ? 0 : number.length > 1 ? 19 : 12;
  if (number !== "") plan.drawing.text(x - 4 * dir, y + 4, number, { size: SMALL, anchor, bold: true });
  plan.drawing.text(x - (4 + apart) * dir, y + 4, name, { size: SMALL, anchor, room: width - apart - 8 });
}

const RESISTOR = { width: 11, height: 26 } as const;
const PLATES = { width: 20, apart: 5, lead: 4 } as const;
const DIODE = { width: 12, height: 12 } as const;

/** Resistor upright from y down, its name and value at the right; with an arrow, a trimmer. Returns the y of its lower end. */
export function resistor(plan: Plan, x: number, y: number, device: Device, room: number, arrow = false, side: "start" | "end" = "start"): number {
  const { width, height } = RESISTOR;
  plan.drawing.add("rect", { x: x - width / 2, y, width, height, fill: PAPER, stroke: INK, "stroke-width": 1.3 });
  if (arrow) {
    plan.drawing.path(`${lines([[x - 12, y + 22, x + 11, y + 4]])}M${x + 4.5} ${y + 4}L${x + 11} ${y + 4}L${x + 9} ${y + 10}`, {
      fill: "none",
      stroke: INK,
      "stroke-width": 1.2,
    });
  }
  caption(plan, side === "start" ? x + 15 : x - 11, y + height / 2, device, side, room);
  return y + height;
}

/** Capacitor upright from y down. Returns the y of its lower end. */
export function capacitor(plan: Plan, x: number, y: number, device: Device, side: "start" | "end", room: number): number {
  const { width, apart, lead } = PLATES;
  const upper = y + lead;
  plan.wire([x, y], [x, upper]);
  plan.wire([x, upper + apart], [x, upper + apart + lead]);
  const plates = [upper, upper + apart].map((at): [number, number, number, number] => [x - width / 2, at, x + width / 2, at]);
  plan.drawing.path(lines(plates), { stroke: INK, "stroke-width": 2 });
  // a plus beside the upper plate, for parts that must not be turned round
  if (device.pins[0]!.name === "+") {
    const [px, py] = [x - width / 2 - 5, upper - 1];
    plan.drawing.path(lines([[px - 3, py, px + 3, py], [px, py - 3, px, py + 3]]), { stroke: INK, "stroke-width": 1.2 });
  }
  caption(plan, side === "start" ? x + 15 : x - 15, upper + apart / 2, device, side, room);
  return upper + apart + lead;
}

/** Diode whose ring is at the right. Returns the x of its right end. */
export function diodeRight(plan: Plan, x: number, y: number): number {
  const { width, height } = DIODE;
  plan.drawing.path(`M${x} ${y - width / 2}v${width}L${x + height} ${y}zM${x + height} ${y - width / 2}v${width}`, STROKE);
  return x + height;
}

const STROKE = { fill: PAPER, stroke: INK, "stroke-width": 1.3 } as const;

function caption(plan: Plan, x: number, y: number, { name, type }: Device, anchor: "start" | "end", room: number): void {
  plan.drawing.text(x, y - 2, name, { size: SMALL, anchor, room, bold: true });
  plan.drawing.text(x, y + 11, type, { size: SMALL, anchor, room });
}

/** Short name of a chip's type to print at it; empty where its pins are not known. */
export function marking(device: Device): string {
  const type = /\b\d{3,4} type/.exec(device.type);
  return isChip(device) && type !== null ? type[0] : "";
}
