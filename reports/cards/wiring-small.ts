import { textWidth } from "../pictures/text.js";
import { lines } from "../pictures/drawing.js";
import { INK, PAPER } from "../pictures/colours.js";
import type { Device, Pin, Wire } from "../../sim/netlist/index.js";
import { farEnd, type Harnessed } from "./wiring-board.js";
import { badgeWidth, SMALL, type Plan, type Sign } from "./wiring-plan.js";

/** Parts with two leads that stand by themselves: each between its two ends, with the numbers of the wires there. */

/** Height of one of them with its name above. */
export const SMALL_HEIGHT = 36;
/** Width that one takes with a wire at each end. */
export const SMALL_WIDTH = 178;

/** Parts that are drawn at the timer or between drivers and houses, by name. */
const ELSEWHERE = /^(Ra|Rb|trimmer|C|R guard|D empty|D\d+|AND)$/;

/** Parts of a board that stand by themselves, in the order of the netlist. */
export function smallParts(board: Harnessed): Device[] {
  return board.having("part").filter(({ name }) => !ELSEWHERE.test(name));
}

/** One part, its left upper corner at x and y. */
export function drawSmall(plan: Plan, board: Harnessed, device: Device, x: number, y: number): void {
  const [first, second] = device.pins as [Pin, Pin];
  const row = y + 23;
  // the symbol stands where its left wires leave it room
  const left = x + 4 + room(board, device, first);
  const right = symbol(plan, device, left, row);
  end(plan, board, device, first, left, row, -1);
  end(plan, board, device, second, right, row, 1);
  const nameWidth = textWidth(device.name, SMALL, true);
  plan.drawing.text(x + 4, y + 11, device.name, { size: SMALL, bold: true, room: SMALL_WIDTH - 8 });
  plan.drawing.text(x + 4 + nameWidth + 6, y + 11, device.type, { size: SMALL, room: SMALL_WIDTH - nameWidth - 20 });
}

/** What the wires at a lead take sideways. */
function room(board: Harnessed, device: Device, pin: Pin): number {
  const wires = board.at(pin);
  const flagged = wires.filter((wire) => signOf(device)(wire) === "flag");
  const railed = wires.filter((wire) => !flagged.includes(wire));
  return (flagged.length === 0 ? 0 : badgeWidth(flagged) + 10) + railed.reduce((sum, wire) => sum + badgeWidth([wire]) + 20, 0);
}

function end(plan: Plan, board: Harnessed, device: Device, pin: Pin, x: number, y: number, dir: 1 | -1): void {
  plan.ends(x, y, dir, board.at(pin), signOf(device));
}

/** What stands at the end of a wire that leaves a device. */
export const signOf =
  (device: Device) =>
  (wire: Wire): Sign => {
    const { role } = farEnd(wire, device);
    return role === "plus" || role === "minus" ? role : "flag";
  };

const STROKE = { fill: PAPER, stroke: INK, "stroke-width": 1.3 } as const;

/** Draws the symbol from x to the right; returns the x of its right end. */
function symbol(plan: Plan, { name, pins }: Device, x: number, y: number): number {
  const kind = pins[0]!.name === "anode" ? "diode" : name.startsWith("C") ? "capacitor" : "resistor";
  switch (kind) {
    case "diode":
      plan.drawing.path(`M${x} ${y - 6}v12L${x + 12} ${y}zM${x + 12} ${y - 6}v12`, STROKE);
      return x + 12;
    case "capacitor":
      plan.wire([x, y], [x + 6, y]);
      plan.wire([x + 11, y], [x + 17, y]);
      plan.drawing.path(lines([[x + 6, y - 8, x + 6, y + 8], [x + 11, y - 8, x + 11, y + 8]]), { stroke: INK, "stroke-width": 2 });
      if (pins[0]!.name === "+") plan.drawing.path(lines([[x - 1, y - 7, x + 4, y - 7], [x + 1.5, y - 9.5, x + 1.5, y - 4.5]]), { stroke: INK, "stroke-width": 1 });
      return x + 17;
    case "resistor":
      plan.drawing.add("rect", { x, y: y - 5, width: 26, height: 10, ...STROKE });
      if (name.startsWith("F")) plan.wire([x, y], [x + 26, y]);
      return x + 26;
  }
}
