import { isChip, type Device, type Wire } from "../../sim/netlist/index.js";
import { INK, PAPER } from "../pictures/colours.js";
import { textWidth } from "../pictures/text.js";
import { AREA } from "./sheet.js";
import { lampsAt, toBoard, TRACK, type Arrival, type Columns, type Harnessed } from "./wiring-board.js";
import { block, chip, chipHeight, marking, title, type Terminal } from "./wiring-parts.js";
import { badgeWidth, PAD, PITCH, SMALL, type Plan } from "./wiring-plan.js";

/** Drivers one below the other, each with the houses on its channels beside it. */

interface Channel {
  /** From the counter; null where it is drawn with an earlier part of the same driver. */
  readonly input: Wire | null;
  /** To the houses. */
  readonly loads: readonly Wire[];
}

/** One driver with its houses, or as many of them as a sheet takes; or the wires to other boards. */
export interface Band {
  readonly driver: Device | null;
  readonly channels: readonly Channel[];
  readonly boards: readonly Wire[];
  /** Which part of the driver, of how many. */
  readonly part: number;
  readonly parts: number;
}

/** Heading above the first pin of a band. */
export const HEADING = 31;
const GAP = 8;
/** Bands begin on these, so that wires to the drivers never run along those from the counter. */
export const GRID = 9;
const HOUSE_HEIGHT = 15;

const rowsOf = ({ channels, boards }: Band): number => boards.length + channels.reduce((sum, { loads }) => sum + loads.length, 0);

export function bandHeight(band: Band): number {
  const own = band.driver === null ? 0 : driverHeight(band.driver);
  const body = Math.max(own, (rowsOf(band) - 1) * PITCH + 2 * PAD);
  return Math.ceil((HEADING + body + GAP) / GRID) * GRID;
}

/** The most rows that fit into a height. */
const rowsIn = (height: number): number => Math.floor((height - HEADING - GAP - GRID - 2 * PAD) / PITCH) + 1;

function driverHeight(driver: Device): number {
  return isChip(driver) ? chipHeight(driver.pins.length) : PITCH + 2 * PAD;
}

/** The drivers of a board in parts of at most this height, and at the end the wires to other boards. */
export function bandsOf(board: Harnessed, height: number): Band[] {
  const most = rowsIn(height);
  const outgoing = board.netlist.wires.filter(toBoard);
  const bands = board.having("driver").flatMap((driver) => {
    const channels = channelsOf(board, driver);
    const chunks = chunked(channels, most);
    return chunks.map((chunk, i): Band => ({ driver, channels: chunk, boards: [], part: i + 1, parts: chunks.length }));
  });
  for (let i = 0; i < outgoing.length; i += most) {
    bands.push({ driver: null, channels: [], boards: outgoing.slice(i, i + most), part: 1, parts: 1 });
  }
  return bands;
}

function channelsOf(board: Harnessed, driver: Device): Channel[] {
  return driver.pins.flatMap((pin) => {
    const input = board.inputAt(pin);
    if (input === null) return [];
    const out = pin.name === "gate" ? "drain" : pin.name.replace("IN", "OUT");
    const outlet = driver.pins.find(({ name }) => name === out);
    return [{ input, loads: board.at(outlet).filter(({ from }) => from.pin === outlet) }];
  });
}

function chunked(channels: readonly Channel[], most: number): Channel[][] {
  const chunks: Channel[][] = [[]];
  let room = most;
  for (const { input, loads } of channels) {
    for (let i = 0; i < loads.length; ) {
      if (room === 0) {
        chunks.push([]);
        room = most;
      }
      const taken = loads.slice(i, i + room);
      chunks.at(-1)!.push({ input: i === 0 ? input : null, loads: taken });
      i += taken.length;
      room -= taken.length;
    }
  }
  return chunks;
}

/** Draws a band from y down; returns where the wires from the counter arrive. */
export function drawBand(plan: Plan, board: Harnessed, columns: Columns, band: Band, y: number): Arrival[] {
  const first = y + HEADING + PAD;
  if (band.driver === null) {
    title(plan, { x: columns.house, y: y + HEADING, width: columns.houseWidth, height: 0 }, "to other boards", "", columns.houseWidth);
    band.boards.forEach((wire, i) => drawBoard(plan, columns, wire, first + i * PITCH));
    return [];
  }
  const terminals = drawDriver(plan, band.driver, columns, y + HEADING);
  const heading = band.parts === 1 ? band.driver.name : `${band.driver.name}, part ${band.part} of ${band.parts}`;
  title(plan, { x: columns.driver, y: y + HEADING, width: columns.driverWidth, height: 0 }, heading, marking(band.driver));
  const at = new Map(terminals.map((terminal) => [terminal.pin, terminal]));
  const arrivals = band.channels.flatMap(({ input }): Arrival[] => {
    if (input === null) return [];
    const { x, y: row } = at.get(input.to.pin)!;
    const others = board.at(input.to.pin).filter((wire) => wire !== input);
    if (!board.routed || input.from.device.role !== "counter") {
      plan.ends(x, row, -1, [input, ...others], () => "flag");
      return [];
    }
    plan.through(x, row, -1, [input]);
    if (others.length > 0) plan.stub(x - 24, row, -1, others, "flag");
    return [{ wire: input, at: [x, row] }];
  });
  if (band.part === 1) {
    for (const { pin, x, y: row, dir } of terminals) {
      const wires = board.at(pin);
      if (wires.some(({ to }) => to.device.role === "minus")) plan.stub(x, row, dir, wires, "minus");
    }
  }
  drawFan(plan, board, columns, band, first, at);
  return arrivals;
}

function drawDriver(plan: Plan, driver: Device, { driver: x, driverWidth: width }: Columns, y: number): Terminal[] {
  if (isChip(driver)) return chip(plan, driver, x, y, width);
  const terminals = driver.pins.map((pin): Terminal => {
    const right = pin.name === "drain";
    return { pin, x: right ? x + width : x, y: y + PAD + (pin.name === "source" ? PITCH : 0), dir: right ? 1 : -1 };
  });
  block(plan, { x, y, width, height: driverHeight(driver) }, terminals);
  return terminals;
}

/** From the driver's outputs to the houses, in the same order from top to bottom, so that no two wires cross. */
function drawFan(plan: Plan, board: Harnessed, columns: Columns, { channels }: Band, first: number, at: ReadonlyMap<unknown, Terminal>): void {
  let row = first;
  const runs = channels.map(({ loads }) => {
    const from = at.get(loads[0]!.from.pin)!;
    const run = { loads, from, top: row };
    row += loads.length * PITCH;
    return run;
  });
  const down = runs.filter(({ from, top }) => top > from.y).length;
  let [ups, downs] = [0, 0];
  for (const { loads, from, top } of runs) {
    const track = columns.fan + TRACK * (top > from.y ? down - 1 - downs++ : top < from.y ? ups++ : 0);
    if (top === from.y) plan.wire([from.x, top], [columns.bus, top]);
    else plan.wire([from.x, from.y], [track, from.y], [track, top], [columns.bus, top]);
    const last = loads.length - 1;
    if (last > 0) plan.wire([columns.bus, top], [columns.bus, top + last * PITCH]);
    loads.forEach((wire, i) => {
      const y = top + i * PITCH;
      if (i < last) plan.joint(columns.bus, y);
      drawWay(plan, board, columns, wire, y);
    });
  }
}

/** From where an output parts to a house, through a diode where there is one. */
function drawWay(plan: Plan, board: Harnessed, columns: Columns, wire: Wire, y: number): void {
  const { bus, house } = columns;
  const diode = wire.to.device.role === "part" ? wire.to.device : null;
  if (diode === null) {
    const numbered = bus + 5 + badgeWidth([wire]);
    plan.wire([bus, y], [house, y]);
    plan.badge((bus + numbered + 4) / 2, y, [wire]);
    drawHouse(plan, board, columns, wire, y);
    return;
  }
  // the ring is at the driver
  let x = plan.through(bus, y, 1, [wire]) + 2;
  plan.drawing.path(`M${x} ${y - 4}v8M${x} ${y}L${x + 10} ${y - 4}v8z`, { fill: PAPER, stroke: INK, "stroke-width": 1.2 });
  plan.wire([bus, y], [x, y]);
  x += 10;
  const onward = board.at(diode.pins[0]).find(({ from }) => from.pin === diode.pins[0])!;
  const named = x + textWidth(diode.name, SMALL) + 4;
  plan.drawing.text(x + 2, y + 4, diode.name, { size: SMALL });
  const number = (named + house) / 2;
  plan.wire([number, y], [house, y]);
  plan.badge(number, y, [onward]);
  drawHouse(plan, board, columns, onward, y);
}

/** A house, or where the wire joins another that goes there. */
function drawHouse(plan: Plan, board: Harnessed, { house: x, houseWidth: width }: Columns, { to, houses }: Wire, y: number): void {
  const joined = to.device.role !== "house";
  const device = joined ? board.houseOf(houses[0]!) : to.device;
  const lamps = joined ? `at ${to.device.role === "driver" ? `${to.device.name} ${to.pin.number ?? to.pin.name}` : to.device.name}` : lampsAt(to.pin, board.netlist.usualLamp);
  const told = Math.min(textWidth(lamps, SMALL), 0.5 * width);
  box(plan, x, y, width);
  plan.drawing.text(x + 5, y + 4, device.name, { size: SMALL, room: width - told - 16 });
  plan.drawing.text(x + width - 5, y + 4, lamps, { size: SMALL, anchor: "end", room: told });
  const plus = joined ? [] : board.at(device.pins.find(({ name }) => name === "plus side"));
  if (plus.length > 0) plan.stub(x + width, y, 1, plus, "plus");
}

function drawBoard(plan: Plan, { house: x }: Columns, wire: Wire, y: number): void {
  const width = AREA.width - x - 1;
  const { device, pin } = wire.to;
  box(plan, x, y, width);
  plan.stub(x, y, -1, [wire], "flag");
  const terminal = `${pin.name}${pin.number === null ? "" : ` ${pin.number}`}`;
  const terminalRoom = textWidth(terminal, SMALL);
  plan.drawing.text(x + 5, y + 4, device.name, { size: SMALL, room: width - terminalRoom - 16 });
  plan.drawing.text(x + width - 5, y + 4, terminal, { size: SMALL, anchor: "end", room: terminalRoom });
}

function box(plan: Plan, x: number, y: number, width: number): void {
  plan.drawing.add("rect", { x, y: y - HOUSE_HEIGHT / 2, width, height: HOUSE_HEIGHT, fill: PAPER, stroke: INK, "stroke-width": 1 });
}
