import { isChip, type Device, type Wire } from "../../sim/netlist/index.js";
import { AREA } from "./sheet.js";
import { pinNamed, type Columns, type Harnessed } from "./wiring-board.js";
import { drawLegend, legendHeight } from "./wiring-legend.js";
import { block, capacitor, chip, chipHeight, diodeRight, marking, outline, resistor, title, type Terminal } from "./wiring-parts.js";
import { drawSmall, signOf, SMALL_HEIGHT, smallParts } from "./wiring-small.js";
import { LEAD, PAD, PITCH, SMALL, type Plan, type Point } from "./wiring-plan.js";

/** The upper part of the first sheet: supply, small parts, timer with its parts, key. */

const SUPPLY = { width: 100, height: 48 } as const;
/** Small parts stand below the supply, left of the wire that comes down from the timer. */
const BESIDE = { from: 58, width: 220 } as const;
const TIMER_WIDTH = 104;
const BLOCK_TIMER = { height: 90 } as const;
/** Wires from plus to the first part, and from the last part to minus, with the signs. */
const RESISTOR = 26;
const CAPACITOR = 13;
const SIGN = 13;

/** From the timer's side to the chain of parts beside it, and room for the texts of the parts. */
const CHAIN = 62;
const CHAIN_ROOM = 84;
/** From such a chain to what leaves it sideways. */
const BRANCH = 9;
const KEY = 562;
/** From where Ra and Rb meet down to where the guarded wire meets C. */
const GUARD = { branch: 53, from: 65, all: 118 } as const;

interface Heights {
  /** From the upper edge to where Ra and Rb meet. */
  readonly disch: number;
  readonly thres: number;
  readonly all: number;
}

function heights(board: Harnessed): Heights {
  const knob = board.part("trimmer") === undefined ? null : board.at(pinNamed(board.part("Ra")!, "lead 2")).some(({ to }) => to.device.name === "trimmer");
  const single = LEAD + RESISTOR + LEAD;
  const double = single + RESISTOR + LEAD;
  const disch = SIGN + (knob === true ? double : single);
  const chain = disch + (knob === false ? double : single);
  const thres = board.part("R guard") === undefined ? chain : Math.max(chain, disch + GUARD.all);
  return { disch, thres, all: thres + LEAD + CAPACITOR + LEAD + SIGN };
}

/** How many small parts the upper part has room for beside the timer. */
export function partsBeside(board: Harnessed): number {
  return Math.min(smallParts(board).length, Math.max(2, Math.floor((bodyHeight(board) - BESIDE.from) / SMALL_HEIGHT)));
}

function bodyHeight(board: Harnessed): number {
  const astable = board.part("Ra") !== undefined;
  return Math.max(SUPPLY.height, astable ? heights(board).all : BLOCK_TIMER.height, legendHeight(board, AREA.width - KEY));
}

/** Height of the upper part. */
export function topHeight(board: Harnessed): number {
  return Math.max(bodyHeight(board), BESIDE.from + partsBeside(board) * SMALL_HEIGHT) + 14;
}

/** Draws the upper part from y down; returns where the wire to the counter's clock goes on, null where it ends at a flag. */
export function drawTop(plan: Plan, board: Harnessed, columns: Columns, y: number): Point | null {
  drawSupply(plan, board, y);
  smallParts(board)
    .slice(0, partsBeside(board))
    .forEach((part, i) => drawSmall(plan, board, part, 0, y + BESIDE.from + i * SMALL_HEIGHT));
  drawLegend(plan, board, KEY, y, AREA.width - KEY);
  const x = columns.clock + 52;
  const out = board.having("timer").length === 0 ? drawOther(plan, board, x, y) : isChip(board.the("timer")) ? drawAstable(plan, board, x, y) : drawBlockTimer(plan, board, x, y);
  const drawn = board.drawnClock();
  if (drawn === null) {
    plan.stub(out.x, out.y, out.dir, [board.clockWire()], "flag");
    return null;
  }
  plan.through(out.x, out.y, -1, [drawn]);
  plan.wire([out.x, out.y], [columns.clock, out.y]);
  return [columns.clock, out.y];
}

function drawSupply(plan: Plan, board: Harnessed, y: number): void {
  const supply = board.the("supply");
  outline(plan, { x: 0.75, y: y + 1, ...SUPPLY }, false);
  plan.drawing.text(8, y + 20, supply.name, { size: SMALL, bold: true });
  plan.drawing.text(8, y + 36, supply.type, { size: SMALL, room: SUPPLY.width - 14 });
  for (const [i, name] of (["plus", "minus"] as const).entries()) {
    plan.ends(SUPPLY.width + 0.75, y + 14 + i * 22, 1, board.at(pinNamed(supply, name)), signOf(supply));
  }
}

/** The timer chip with resistors, trimmer and capacitors. Returns its output. */
function drawAstable(plan: Plan, board: Harnessed, x: number, y: number): Terminal {
  const timer = board.the("timer");
  const { disch, thres } = heights(board);
  const first = y + disch - PITCH;
  const shape = { x, y: first - PAD, width: TIMER_WIDTH, height: chipHeight(8) };
  title(plan, shape, timer.name, marking(timer));
  const pins = new Map(chip(plan, timer, shape.x, shape.y, shape.width).map((terminal) => [terminal.pin.name, terminal]));
  const pin = (name: string): Terminal => pins.get(name)!;
  const at = (name: string): readonly Wire[] => board.at(pin(name).pin);
  const stub = (name: string, sign: "plus" | "minus" | "flag"): number => plan.stub(pin(name).x, pin(name).y, pin(name).dir, at(name), sign);
  stub("GND", "minus");
  stub("TRIG", "flag");
  stub("CONT", "flag");
  stub("RESET", "plus");
  stub("VCC", "plus");

  const chain = x + TIMER_WIDTH + CHAIN;
  const inner = x + TIMER_WIDTH + 40;
  // the key stands beside it
  const room = Math.min(CHAIN_ROOM, KEY - chain - 19);
  plan.wire([pin("DISCH").x, pin("DISCH").y], [chain, y + disch]);
  plan.joint(chain, y + disch);
  plan.joint(chain, y + thres);
  const guard = board.part("R guard");
  const inputs = pin("THRES");
  plan.wire([inputs.x, inputs.y], [inner, inputs.y], [inner, y + thres], [chain, y + thres]);
  const toTrigger = at("TRIG");
  plan.joint(inner, y + disch + GUARD.branch);
  plan.stub(inner, y + disch + GUARD.branch, -1, toTrigger, "flag");
  if (guard !== undefined) drawGuard(plan, board, guard, inner, y + disch, y + thres);
  const ra = board.part("Ra")!;
  const rb = board.part("Rb")!;
  let lower = plan.down(chain, plan.signAbove(chain, y), board.at(ra.pins[0])[0]!);
  for (const part of [ra, rb]) {
    if (part === rb) lower = plan.down(chain, y + disch, board.at(rb.pins[0])[0]!);
    lower = resistor(plan, chain, lower, part, room);
    let wire = board.at(part.pins[1])[0]!;
    lower = plan.down(chain, lower, wire);
    const knob = wire.to.device;
    if (knob.name !== "trimmer") continue;
    lower = resistor(plan, chain, lower, knob, room, true);
    wire = board.at(knob.pins[1])[0]!;
    lower = plan.down(chain, lower, wire);
  }
  const c = board.part("C")!;
  plan.wire([chain, lower], [chain, y + thres]);
  const empties = board.part("D empty");
  if (empties !== undefined) drawEmptying(plan, board, empties, chain, y + thres);
  const toC = guard === undefined ? board.between(timer, "THRES", c) : null;
  const plate = y + thres + LEAD;
  if (toC !== null) plan.badge(chain, y + thres + LEAD / 2, [toC]);
  plan.wire([chain, y + thres], [chain, plate]);
  lower = capacitor(plan, chain, plate, c, "start", room);
  plan.signBelow(chain, plan.down(chain, lower, board.at(c.pins[1])[0]!));
  return pin("OUT");
}

/** The resistor between C and the timer's inputs, in the wire that comes down from them. */
function drawGuard(plan: Plan, board: Harnessed, guard: Device, x: number, disch: number, thres: number): void {
  const [above] = board.at(guard.pins[1]);
  const [below] = board.at(guard.pins[0]);
  plan.badge(x, disch + 34, [above!]);
  const lower = resistor(plan, x, disch + GUARD.from, guard, 60, false, "end");
  plan.badge(x, (lower + thres) / 2, [below!]);
}

/** The diode that empties C into the plus rail; its ring is at plus. */
function drawEmptying(plan: Plan, board: Harnessed, diode: Device, x: number, y: number): void {
  const anode = plan.through(x + BRANCH, y, 1, board.at(diode.pins[0])) + 2;
  plan.wire([x, y], [anode, y]);
  plan.drawing.text(anode + 6, y - 10, diode.name, { size: SMALL, anchor: "middle", bold: true });
  plan.stub(diodeRight(plan, anode, y), y, 1, board.at(diode.pins[1]), "plus");
}

/** A timer whose pins are not known. Returns its output. */
function drawBlockTimer(plan: Plan, board: Harnessed, x: number, y: number): Terminal {
  const timer = board.the("timer");
  const shape = { x, y: y + 31, width: TIMER_WIDTH, height: 2 * PAD + PITCH };
  const terminal = (name: string, row: number, dir: 1 | -1): Terminal => ({
    pin: pinNamed(timer, name)!,
    x: dir > 0 ? x + TIMER_WIDTH : x,
    y: shape.y + PAD + row * PITCH,
    dir,
  });
  const output = terminal("output", 0, -1);
  const supply = [terminal("plus", 0, 1), terminal("minus", 1, 1)];
  title(plan, shape, timer.name, "");
  block(plan, shape, [output, ...supply]);
  for (const { pin, x: side, y: row } of supply) plan.stub(side, row, 1, board.at(pin), pin.name === "plus" ? "plus" : "minus");
  return output;
}

/** The board that clocks this one. Returns the terminal its pulses come from. */
function drawOther(plan: Plan, board: Harnessed, x: number, y: number): Terminal {
  const other = board.clocking();
  const shape = { x, y: y + 31, width: TIMER_WIDTH + 40, height: 2 * PAD };
  const terminal: Terminal = { pin: other.pins[0]!, x, y: shape.y + PAD, dir: -1 };
  title(plan, shape, other.name, "its counter");
  block(plan, shape, [terminal]);
  return terminal;
}
