import { isChip, type Device } from "../../sim/netlist/index.js";
import { pinNamed, toBoard, TRACK, type Arrival, type Columns, type Harnessed } from "./wiring-board.js";
import { GRID, HEADING } from "./wiring-drivers.js";
import { block, chip, chipHeight, marking, title, type Terminal } from "./wiring-parts.js";
import { PAD, PITCH, type Plan, type Point } from "./wiring-plan.js";
import { signOf } from "./wiring-small.js";
import { leastCrossings } from "./wiring-tracks.js";

/** The counter, and its wires to the drivers on one sheet. */

export interface CounterPlace {
  /** Top of the heading. */
  readonly y: number;
  /** Where the content of the sheet ends. */
  readonly bottom: number;
  /** On later sheets only the wires to the drivers are drawn. */
  readonly first: boolean;
  readonly arrivals: readonly Arrival[];
}

/** The innermost of the wires that run down at the left of the counter. */
const INNER_LANE = 38;
/** Room that a block needs above its outputs, for supply, clock, and the clock of another board. */
export const BLOCK_HEAD = 3 * PITCH;

/** Height of the counter with its heading when it stands alone. */
export function counterHeight(counter: Device): number {
  return isChip(counter) ? HEADING + chipHeight(counter.pins.length) + (counter.pins.length / 2) * GRID + PITCH : HEADING + BLOCK_HEAD + 2 * PAD;
}

/** Draws the counter; returns where its clock arrives. */
export function drawCounter(plan: Plan, board: Harnessed, columns: Columns, place: CounterPlace): Terminal {
  const counter = board.the("counter");
  const heading = place.first ? counter.name : `${counter.name} (again)`;
  const shape = { x: columns.counter, y: place.y + HEADING, width: columns.counterWidth, height: 0 };
  title(plan, shape, heading, marking(counter));
  return isChip(counter) ? drawDecade(plan, board, columns, place) : drawBlock(plan, board, columns, place);
}

/** Where the clock comes in: at the inhibit input where a falling edge is counted. */
function clockTerminal(board: Harnessed, terminals: readonly Terminal[]): Terminal {
  const clock = board.netlist.wires.find(({ to, purpose }) => to.device.role === "counter" && purpose.startsWith("clock"))!;
  return terminals.find(({ pin }) => pin === clock.to.pin)!;
}

function drawDecade(plan: Plan, board: Harnessed, columns: Columns, { y, first, arrivals }: CounterPlace): Terminal {
  const counter = board.the("counter");
  const top = y + HEADING;
  const terminals = chip(plan, counter, columns.counter, top, columns.counterWidth);
  const clock = clockTerminal(board, terminals);
  const arrival = new Map(arrivals.map((each) => [each.wire, each]));
  const routes: { terminal: Terminal; arrival: Arrival; x: number }[] = [];
  for (const terminal of terminals) {
    const wires = board.at(terminal.pin).filter((wire) => wire !== board.drawnClock());
    const routed = wires.find((wire) => arrival.has(wire));
    const others = first ? wires.filter(({ to }) => to.device.role !== "driver") : [];
    let { x } = terminal;
    if (terminal === clock && board.drawnClock() !== null && first) {
      x = plan.through(x, terminal.y, terminal.dir, [board.drawnClock()!]);
      if (others.length > 0) plan.joint(x + 2 * terminal.dir, terminal.y);
    }
    if (routed !== undefined) {
      x = plan.through(x, terminal.y, terminal.dir, [routed]);
      routes.push({ terminal, arrival: arrival.get(routed)!, x });
    }
    if (others.length > 0) {
      if (routed !== undefined) plan.joint(x + 2 * terminal.dir, terminal.y);
      plan.ends(x, terminal.y, terminal.dir, others, signOf(counter));
    }
  }
  // wires from the left side go round below the chip, the lowest pin innermost
  const lowest = top + chipHeight(counter.pins.length) - PAD;
  const left = routes.filter(({ terminal }) => terminal.dir < 0).sort((a, b) => b.terminal.y - a.terminal.y);
  const entries = routes.map((route) => {
    const lane = left.indexOf(route);
    return lane < 0 ? route.terminal.y : lowest + PITCH + lane * GRID;
  });
  const order = leastCrossings(entries.map((from, i) => ({ from, to: routes[i]!.arrival.at[1] })));
  routes.forEach(({ terminal, arrival: { at } }, i) => {
    const track = columns.tracks + order.indexOf(i) * TRACK;
    const lane = left.indexOf(routes[i]!);
    const side = INNER_LANE - lane * TRACK;
    const round: Point[] = lane < 0 ? [] : [[side, terminal.y], [side, entries[i]!]];
    plan.wire([terminal.x, terminal.y], ...round, [track, entries[i]!], [track, at[1]], at);
  });
  return clock;
}

/** A block's outputs stand where the drivers want them, so that its wires run straight. */
function drawBlock(plan: Plan, board: Harnessed, columns: Columns, { y, bottom, first, arrivals }: CounterPlace): Terminal {
  const counter = board.the("counter");
  const { counter: x, counterWidth: width } = columns;
  const top = y + HEADING;
  const right = (name: string, row: number): Terminal => ({ pin: pinNamed(counter, name)!, x: x + width, y: row, dir: 1 });
  const left = (name: string, row: number): Terminal => ({ ...right(name, row), x, dir: -1 });
  const clock = right("clock", top + PAD);
  const supply = first ? [left("plus", top + PAD), left("minus", top + PAD + PITCH)] : [];
  const outputs = arrivals.map(({ wire, at }): Terminal => ({ pin: wire.from.pin, x: x + width, y: at[1], dir: 1 }));
  const carried = first ? board.netlist.wires.filter((wire) => toBoard(wire) && wire.from.device === counter) : [];
  const carry = carried.length === 0 ? [] : [{ ...right("clock", top + PAD + 2 * PITCH), pin: carried[0]!.from.pin }];
  block(plan, { x, y: top, width, height: Math.max(bottom - top, BLOCK_HEAD + 2 * PAD) }, [...(first ? [clock] : []), ...supply, ...carry, ...outputs]);
  for (const terminal of supply) plan.stub(x, terminal.y, -1, board.at(terminal.pin), terminal.pin.name === "plus" ? "plus" : "minus");
  for (const terminal of carry) plan.stub(x + width, terminal.y, 1, carried, "flag");
  const drawn = board.drawnClock();
  if (first && drawn !== null) plan.through(clock.x, clock.y, 1, [drawn]);
  for (const { wire, at } of arrivals) {
    plan.through(x + width, at[1], 1, [wire]);
    plan.wire([x + width, at[1]], at);
  }
  return clock;
}
