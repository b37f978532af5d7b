import { isChip, netlist, type Netlist } from "../../sim/netlist/index.js";
import { houseNames } from "../../sim/model/housename.js";
import { AREA, cardSheets, type DrawContent, type MakeCard } from "./sheet.js";
import { columnsOf, Harnessed, type Columns } from "./wiring-board.js";
import { BLOCK_HEAD, counterHeight, drawCounter } from "./wiring-counter.js";
import { bandHeight, bandsOf, drawBand, GRID, type Band } from "./wiring-drivers.js";
import { chipRows, drawChipRow, rowHeight } from "./wiring-chips.js";
import { Plan } from "./wiring-plan.js";
import { Remarks } from "./wiring-remarks.js";
import { tableSheets } from "./wiring-table.js";
import { drawSmall, SMALL_HEIGHT, SMALL_WIDTH, smallParts } from "./wiring-small.js";
import { drawTop, partsBeside, topHeight } from "./wiring-top.js";

/** The wiring card of board `b`: its chips with their pins and every wire with its number, as a plan and as a table. */
export const wiringCard: MakeCard = (input, b) => {
  const { id } = input.scenario.boards[b]!;
  const net = netlist(input.scenario, b);
  const board = new Harnessed(net);
  return cardSheets(
    input,
    {
      name: `wiring-${id}`,
      heading: `Wiring card: board ${id}`,
      description: `The chips of board ${id} with their pins, and its ${net.wires.length} wires with their numbers, drawn and as a table.`,
    },
    withRemarks(planSheets(board), net, houseNames(input.scenario)),
  );
};

/** The plan with its table; what else has to be known begins where the plan leaves room. */
function withRemarks({ contents, end }: PlanSheets, net: Netlist, houses: readonly string[]): DrawContent[] {
  const remarks = new Remarks(net.remarks);
  const below = remarks.below(end);
  const last: DrawContent = (drawing) => {
    contents.at(-1)!(drawing);
    below(drawing);
  };
  return [...contents.slice(0, -1), last, ...tableSheets(net, houses, remarks)];
}

interface PlanSheets {
  readonly contents: readonly DrawContent[];
  /** Where the last of them ends. */
  readonly end: number;
}

/** Something as wide as the sheet that stands on it from some height on. */
interface Block {
  readonly height: number;
  draw(plan: Plan, y: number): void;
}

/** The plan: supply, timer and counter with as many drivers as fit, everything else on sheets of their own. */
function planSheets(board: Harnessed): PlanSheets {
  const columns = columnsOf(board);
  const top = Math.ceil(topHeight(board) / GRID) * GRID;
  const { contents, end } = board.routed ? routedSheets(board, columns, top) : { contents: [topAlone(board, columns)], end: AREA.y + top };
  const bands = board.routed ? [] : bandsOf(board, AREA.height).map((band) => bandBlock(board, columns, band));
  return flowed([...chipBlocks(board), ...bands, ...smallBlocks(board)], contents, end);
}

const topAlone =
  (board: Harnessed, columns: Columns): DrawContent =>
  (drawing) => {
    const plan = new Plan(drawing);
    drawTop(plan, board, columns, AREA.y);
    plan.finish();
  };

const chipBlocks = (board: Harnessed): Block[] =>
  chipRows(board).map((row) => ({ height: rowHeight(row), draw: (plan, y) => drawChipRow(plan, board, row, y) }));

const bandBlock = (board: Harnessed, columns: Columns, band: Band): Block => ({
  height: bandHeight(band),
  draw: (plan, y) => void drawBand(plan, board, columns, band, y),
});

/** The small parts that had no room at the timer, four in a row. */
function smallBlocks(board: Harnessed): Block[] {
  const parts = smallParts(board).slice(partsBeside(board));
  const across = Math.floor(AREA.width / SMALL_WIDTH);
  return Array.from({ length: Math.ceil(parts.length / across) }, (_, row) => ({
    height: SMALL_HEIGHT,
    draw: (plan, y) => parts.slice(row * across, (row + 1) * across).forEach((part, i) => drawSmall(plan, board, part, i * SMALL_WIDTH, y)),
  }));
}

/** Blocks below what is there already, and on as many sheets more as they need. */
function flowed(blocks: readonly Block[], contents: readonly DrawContent[], end: number): PlanSheets {
  const sheets = contents.map((content) => [content]);
  let y = end;
  for (const block of blocks) {
    if (y + block.height > AREA.y + AREA.height) {
      sheets.push([]);
      y = AREA.y;
    }
    const at = y;
    sheets.at(-1)!.push((drawing) => {
      const plan = new Plan(drawing);
      block.draw(plan, at);
      plan.finish();
    });
    y += block.height;
  }
  return { contents: sheets.map((draws) => (drawing) => draws.forEach((draw) => draw(drawing))), end: y + GRID };
}

/** Counter and drivers with their wires drawn from end to end, the other drivers on sheets of their own. */
function routedSheets(board: Harnessed, columns: Columns, top: number): PlanSheets {
  const [first = [], ...later] = sharedOut(bandsOf(board, AREA.height - top - headRoom(board, true)), (sheet) => {
    return AREA.height - headRoom(board, sheet === 0) - (sheet === 0 ? top : 0);
  });
  const last = later.at(-1) ?? first;
  const start = AREA.y + (later.length === 0 ? top : 0);
  const bottom = start + headRoom(board, later.length === 0) + last.reduce((sum, band) => sum + bandHeight(band), 0);
  const contents: DrawContent[] = [
    (drawing) => {
      const plan = new Plan(drawing);
      const clock = drawTop(plan, board, columns, AREA.y);
      const terminal = drawPart(plan, board, columns, first, AREA.y + top, true)!;
      if (clock !== null) plan.wire(clock, [clock[0], terminal.y], [terminal.x, terminal.y]);
      plan.finish();
    },
    ...later.map((bands): DrawContent => (drawing) => {
      const plan = new Plan(drawing);
      drawPart(plan, board, columns, bands, AREA.y, false);
      plan.finish();
    }),
  ];
  return { contents, end: Math.max(bottom, start + counterHeight(board.the("counter"))) + GRID };
}

/** A counter that is a block has its supply and clock above its outputs. */
function headRoom(board: Harnessed, first: boolean): number {
  return first && !isChip(board.the("counter")) ? BLOCK_HEAD : 0;
}

/**
 * Draws the counter and the drivers of one sheet from y down; returns where the counter's clock arrives, null on a later
 * sheet that the counter has no wire to.
 */
function drawPart(plan: Plan, board: Harnessed, columns: Columns, bands: readonly Band[], y: number, first: boolean): ReturnType<typeof drawCounter> | null {
  let at = y + headRoom(board, first);
  const arrivals = bands.flatMap((band) => {
    const here = drawBand(plan, board, columns, band, at);
    at += bandHeight(band);
    return here;
  });
  if (!first && arrivals.length === 0) return null;
  // half a grid lower than the drivers, so that no two wires lie on one line
  const counter = isChip(board.the("counter")) ? y + GRID / 2 : y;
  return drawCounter(plan, board, columns, { y: counter, bottom: Math.max(at, y + counterHeight(board.the("counter"))), first, arrivals });
}

/** Bands in order on as many sheets as they need, `room` being what sheet 0, 1, … takes. */
function sharedOut(bands: readonly Band[], room: (sheet: number) => number): Band[][] {
  const sheets: Band[][] = [[]];
  let left = room(0);
  for (const band of bands) {
    const height = bandHeight(band);
    if (height > left && sheets.at(-1)!.length > 0) {
      sheets.push([]);
      left = room(sheets.length - 1);
    }
    sheets.at(-1)!.push(band);
    left -= height;
  }
  return sheets;
}
