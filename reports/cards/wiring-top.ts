import { isChip, type Wire } from "../../sim/netlist/index.js";
import { AREA } from "./sheet.js";
import { pinNamed, type Columns, type Harnessed } from "./wiring-board.js";
import { drawLegend, legendHeight } from "./wiring-legend.js";
import { block, capacitor, chip, chipHeight, diodeDown, diodeRight, marking, outline, resistor, title, type Terminal } from "./wiring-parts.js";
import { LEAD, PAD, PITCH, SMALL, type Plan, type Point } from "./wiring-plan.js";

/** The upper part of the first sheet: supply, reset, timer with its parts, key. */

const SUPPLY = { width: 100, height: 48 } as const;
/** From the upper edge to the reset group, and its height. */
const RESET = { from: 66, height: 168 } as const;
const TIMER_WIDTH = 104;
const BLOCK_TIMER = { height: 90 } as const;
const DIVIDER = { width: 80, height: 62 } as const;
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
  const thres = disch + (knob === false ? double : single);
  return { disch, thres, all: thres + LEAD + CAPACITOR + LEAD + SIGN };
}

/** Height of the upper part. */
export function topHeight(board: Harnessed): number {
  const left = board.part("C start") === undefined ? RESET.from : RESET.from + RESET.height;
  const astable = isChip(board.clocking()) && board.having("timer").length > 0;
  const timer = astable ? heights(board).all : BLOCK_TIMER.height;
  const divider = board.having("divider").length > 0 ? 150 + DIVIDER.height : 0;
  return Math.max(left, timer, divider, legendHeight(board, AREA.width - KEY)) + 14;
}

/** Draws the upper part from y down; returns where the wire to the counter's clock goes on. */
export function drawTop(plan: Plan, board: Harnessed, columns: Columns, y: number): Point {
  drawSupply(plan, board, y);
  if (board.part("C start") !== undefined) drawReset(plan, board, y + RESET.from);
  drawLegend(plan, board, KEY, y, AREA.width - KEY);
  const x = columns.clock + 52;
  const out = board.having("timer").length === 0 ? drawOther(plan, board, x, y) : isChip(board.the("timer")) ? drawAstable(plan, board, x, y) : drawBlockTimer(plan, board, x, y);
  const [divider] = board.having("divider");
  const start: Point = [out.x, out.y];
  const turn: Point = [columns.clock, out.y];
  if (divider === undefined) {
    plan.through(out.x, out.y, -1, [board.clockWire()]);
    plan.wire(start, turn);
    return turn;
  }
  const input = board.at(pinNamed(divider, "input"));
  plan.through(out.x, out.y, -1, input);
  const top = y + topHeight(board) - 14 - DIVIDER.height;
  plan.wire(start, turn, [columns.clock, top]);
  const shape = { x: columns.clock - DIVIDER.width / 2, y: top, ...DIVIDER };
  outline(plan, shape, true);
  const lines = ["- input", divider.name, divider.type.replace("one pulse for every ", "÷ "), "- output"];
  lines.forEach((text, i) => plan.drawing.text(columns.clock, top + 13 + i * 14, text, { size: SMALL, anchor: "middle", bold: i === 1, room: DIVIDER.width - 6 }));
  for (const [i, name] of (["plus", "minus"] as const).entries()) {
    plan.stub(shape.x + DIVIDER.width, top + 18 + i * 26, 1, board.at(pinNamed(divider, name)), name);
  }
  return [columns.clock, top + DIVIDER.height];
}

function drawSupply(plan: Plan, board: Harnessed, y: number): void {
  const supply = board.the("supply");
  outline(plan, { x: 0.75, y: y + 1, ...SUPPLY }, false);
  plan.drawing.text(8, y + 20, supply.name, { size: SMALL, bold: true });
  plan.drawing.text(8, y + 36, supply.type, { size: SMALL, room: SUPPLY.width - 14 });
  for (const [i, name] of (["plus", "minus"] as const).entries()) {
    plan.stub(SUPPLY.width + 0.75, y + 14 + i * 22, 1, board.at(pinNamed(supply, name)), name);
  }
}

/** The pulse at switch-on, and with fewer than ten steps the output that starts the round again. */
function drawReset(plan: Plan, board: Harnessed, y: number): void {
  const counter = board.the("counter");
  const [c, r, start, round, down] = ["C start", "R start", "D start", "D round", "R reset"].map((name) => board.part(name));
  const x = 16;
  const second = 136;
  const at = (device: typeof c, name: string): Wire => board.at(pinNamed(device!, name))[0]!;
  let lower = plan.down(x, plan.signAbove(x, y), at(c, "lead 1"));
  lower = capacitor(plan, x, lower, c!, "start", 70);
  const node = lower + 16;
  plan.wire([x, lower], [x, node]);
  plan.joint(x, node);
  lower = resistor(plan, x, plan.down(x, node, board.between(c!, "lead 2", r!)), r!, 70);
  plan.signBelow(x, plan.down(x, lower, at(r, "lead 2")));
  if (start === undefined || round === undefined || down === undefined) {
    branch(plan, x, node, [board.between(c!, "lead 2", counter)]);
    return;
  }
  const joined = board.between(c!, "lead 2", start);
  const anode = plan.through(x + BRANCH, node, 1, [joined]) + 6;
  plan.wire([x, node], [anode, node]);
  plan.wire([diodeRight(plan, anode, node, start), node], [second, node]);
  plan.joint(second, node);
  const flag = plan.flagAbove(second, y - 12, at(round, "anode"));
  lower = diodeDown(plan, second, flag, round, 90);
  plan.wire([second, lower], [second, node]);
  plan.badge(second, (lower + node) / 2, [board.between(start, "cathode", round)]);
  branch(plan, second, node, [board.between(start, "cathode", counter)]);
  lower = resistor(plan, second, plan.down(second, node, board.between(start, "cathode", down)), down, 50);
  plan.signBelow(second, plan.down(second, lower, at(down, "lead 2")));
}

/** A flag beside a chain of parts, clear of the numbers above and below it. */
function branch(plan: Plan, x: number, y: number, wires: readonly Wire[]): void {
  plan.wire([x, y], [x + BRANCH, y]);
  plan.stub(x + BRANCH, y, 1, wires, "flag");
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
  stub("RESET", "plus");
  stub("VCC", "plus");
  drawQuiet(plan, board, pin("CONT"));

  const chain = x + TIMER_WIDTH + CHAIN;
  const inner = x + TIMER_WIDTH + 40;
  // the key stands beside it
  const room = Math.min(CHAIN_ROOM, KEY - chain - 19);
  plan.wire([pin("DISCH").x, pin("DISCH").y], [chain, y + disch]);
  plan.wire([pin("THRES").x, pin("THRES").y], [inner, pin("THRES").y], [inner, y + thres], [chain, y + thres]);
  plan.joint(chain, y + disch);
  plan.joint(chain, y + thres);
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
  branch(plan, chain, y + thres, at("TRIG"));
  lower = capacitor(plan, chain, plan.down(chain, y + thres, board.between(timer, "THRES", c)), c, "start", room);
  plan.signBelow(chain, plan.down(chain, lower, board.at(c.pins[1])[0]!));
  return pin("OUT");
}

/** The capacitor at the timer's control voltage. */
function drawQuiet(plan: Plan, board: Harnessed, { pin, x, y }: Terminal): void {
  const c = board.part("C cont")!;
  const column = x + 16;
  plan.wire([x, y], [column, y]);
  const lower = capacitor(plan, column, plan.down(column, y, board.at(pin)[0]!), c, "end", 70);
  plan.signBelow(column, plan.down(column, lower, board.at(c.pins[1])[0]!));
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
