import { isChip, type Device } from "../../sim/netlist/index.js";
import { AREA } from "./sheet.js";
import type { Harnessed } from "./wiring-board.js";
import { block, chip, chipHeight, marking, title, type Terminal } from "./wiring-parts.js";
import { badgeWidth, PAD, PITCH, type Plan } from "./wiring-plan.js";
import { signOf } from "./wiring-small.js";

/** Counter chips, gates and dividers that are not drawn with their wires run out: every wire ends at a flag or a sign. */

/** Wide enough for two names side by side, short ones or long ones. */
const WIDTH = { short: 96, long: 158 } as const;
const widthOf = ({ pins }: Device): number => (pins.some(({ name }) => name.length > 6) ? WIDTH.long : WIDTH.short);
const HEADING = 31;
const BELOW = 14;
const SIGNS = 26;

/** A chip that stands by itself, with the room that it and its wires take. */
export interface Placed {
  readonly device: Device;
  readonly left: number;
  readonly width: number;
}

/** Chips that stand by themselves, in rows that fit across the sheet. */
export function chipRows(board: Harnessed): Placed[][] {
  const chips = board.netlist.devices.filter((device) => standsAlone(board, device));
  const rows: Placed[][] = [];
  let used = Infinity;
  for (const device of chips) {
    const [left, right] = ([-1, 1] as const).map((side) => sideRoom(board, device, side)) as [number, number];
    const placed = { device, left, width: left + widthOf(device) + right };
    if (used + placed.width > AREA.width) {
      rows.push([]);
      used = 0;
    }
    rows.at(-1)!.push(placed);
    used += placed.width + 12;
  }
  return rows;
}

function standsAlone(board: Harnessed, { role }: Device): boolean {
  return role === "divider" || role === "gate" || (role === "counter" && !board.routed);
}

function sideRoom(board: Harnessed, device: Device, side: -1 | 1): number {
  const half = device.pins.length / 2;
  const pins = device.pins.filter((_, i) => i < half === side < 0);
  return Math.max(...pins.map((pin) => (board.at(pin).length === 0 ? 0 : badgeWidth(board.at(pin))))) + SIGNS;
}

export function rowHeight(row: readonly Placed[]): number {
  return HEADING + Math.max(...row.map(({ device }) => chipHeight(device.pins.length))) + BELOW;
}

/** Draws a row of chips from y down. */
export function drawChipRow(plan: Plan, board: Harnessed, row: readonly Placed[], y: number): void {
  const spare = (AREA.width - row.reduce((sum, { width }) => sum + width, 0)) / row.length;
  let x = 0;
  for (const { device, left, width } of row) {
    const shape = { x: x + left, y: y + HEADING, width: widthOf(device), height: 0 };
    title(plan, shape, device.name, marking(device));
    for (const terminal of isChip(device) ? chip(plan, device, shape.x, shape.y, shape.width) : named(plan, device, shape.x, shape.y)) {
      plan.ends(terminal.x, terminal.y, terminal.dir, board.at(terminal.pin), signOf(device));
    }
    x += width + Math.min(spare, 60);
  }
}

/** A programmed part: half of its terminals at each side, by name. */
function named(plan: Plan, device: Device, x: number, y: number): Terminal[] {
  const half = device.pins.length / 2;
  const terminals = device.pins.map((pin, i): Terminal => ({ pin, x: i < half ? x : x + widthOf(device), y: y + PAD + PITCH * (i % half), dir: i < half ? -1 : 1 }));
  block(plan, { x, y, width: widthOf(device), height: chipHeight(device.pins.length) }, terminals);
  return terminals;
}
