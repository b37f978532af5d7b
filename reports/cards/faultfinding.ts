import type { FaultTable } from "../../sim/faults/index.js";
import { watchTimes } from "../../sim/faults/telltime.js";
import { GUIDE, INK } from "../pictures/colours.js";
import { lines, type Drawing } from "../pictures/drawing.js";
import { wrapped } from "../pictures/text.js";
import { ALL_ADVICE } from "./faultfinding-advice.js";
import { faultRows, SECTIONS, type FaultRow } from "./faultfinding-rows.js";
import { ADVICE_TITLE, HEADINGS, startingWords } from "./faultfinding-words.js";
import { AREA, cardSheets, type DrawContent, type MakeCard } from "./sheet.js";

const SIZE = 11;
const LINE = 13;
const GAP = 7;
const PAD = 3;
/** Lines of one row on one sheet; what is longer goes on below. */
const MOST_LINES = 24;

const COLUMNS = [
  { heading: "", width: 18 },
  { heading: HEADINGS.see, width: 346 },
  { heading: HEADINGS.watch, width: 46 },
  { heading: HEADINGS.look, width: 256 },
  { heading: HEADINGS.advice, width: AREA.width - 18 - 346 - 46 - 256 - 4 * GAP },
] as const;
const LEFT = COLUMNS.map((_, i) => AREA.x + COLUMNS.slice(0, i).reduce((sum, { width }) => sum + width + GAP, 0));

/** A part of a card that is not torn apart between sheets. */
interface Block {
  readonly height: number;
  /** Draws it below y. */
  readonly draw: (drawing: Drawing, y: number) => void;
  /** Stands on the same sheet as what follows. */
  readonly leads: boolean;
  /** Stands under the headings of the table, which every sheet repeats. */
  readonly inTable: boolean;
}

/** The fault-finding cards of a display, whose faults are simulated once for all boards. */
export function faultFindingCard(table: FaultTable): MakeCard {
  const times = watchTimes(table);
  return (input, b) => {
    const { id } = table.scenario.boards[b]!;
    const rows = faultRows(table, times, b);
    const used = [...ALL_ADVICE.keys()].filter((a) => rows.some(({ advice }) => advice.includes(a)));
    const letters = new Map(used.map((a, i) => [a, String.fromCharCode(65 + i)]));
    const blocks = [
      ...paragraphs(startingWords(table, b)),
      ...SECTIONS.flatMap(({ kind, title }) => {
        const own = rows.filter((row) => row.kind === kind);
        return own.length === 0 ? [] : [sectionTitle(title), ...own.flatMap((row) => rowBlocks(row, letters))];
      }),
      ...adviceBlocks(letters),
    ];
    const facts = {
      name: `faults-${id}`,
      heading: `Fault-finding card: board ${id}`,
      description: `What one sees with each single fault of board ${id}, for how long to watch, and where to look.`,
    };
    return cardSheets(input, facts, onSheets(blocks));
  };
}

function paragraphs(texts: readonly { readonly lead: string; readonly text: string }[]): Block[] {
  return texts.map(({ lead, text }) => paragraph(lead, text, 56));
}

/** Text to the right of a word or letter. */
function paragraph(lead: string, text: string, indent: number): Block {
  const shown = wrapped(text, AREA.width - indent, SIZE);
  return {
    height: shown.length * LINE + PAD,
    leads: false,
    inTable: false,
    draw: (drawing, y) => {
      drawing.text(AREA.x, y + SIZE, lead, { size: SIZE, bold: true, room: indent - 4 });
      for (const [i, line] of shown.entries()) drawing.text(AREA.x + indent, y + SIZE + i * LINE, line, { size: SIZE, room: AREA.width - indent, prose: true });
    },
  };
}

function sectionTitle(title: string): Block {
  return {
    height: LINE + 2 * PAD,
    leads: true,
    inTable: true,
    draw: (drawing, y) => drawing.text(AREA.x, y + PAD + SIZE, title, { size: 12, bold: true, room: AREA.width }),
  };
}

/** A row, in parts of at most {@link MOST_LINES} lines. */
function rowBlocks({ number, see, watch, look, advice }: FaultRow, letters: ReadonlyMap<number, string>): Block[] {
  const texts = [String(number), see, watch, look, advice.map((a) => letters.get(a)!).join(" ")];
  const cells = texts.map((text, c) => wrapped(text, COLUMNS[c]!.width, SIZE));
  const count = Math.max(...cells.map((cell) => cell.length));
  return Array.from({ length: Math.ceil(count / MOST_LINES) }, (_, part): Block => {
    const shown = cells.map((cell) => cell.slice(part * MOST_LINES, (part + 1) * MOST_LINES));
    const height = Math.max(...shown.map((cell) => cell.length)) * LINE + PAD;
    return {
      height,
      leads: false,
      inTable: true,
      draw: (drawing, y) => {
        drawing.path(lines([[AREA.x, y, AREA.x + AREA.width, y]]), { stroke: GUIDE });
        for (const [c, cell] of shown.entries()) {
          for (const [i, line] of cell.entries()) {
            drawing.text(LEFT[c]!, y + PAD / 2 + SIZE + i * LINE, line, { size: SIZE, bold: c === 0 || c === 4, room: COLUMNS[c]!.width, prose: true });
          }
        }
      },
    };
  });
}

function adviceBlocks(letters: ReadonlyMap<number, string>): Block[] {
  const title: Block = {
    height: LINE + 3 * PAD,
    leads: true,
    inTable: false,
    draw: (drawing, y) => drawing.text(AREA.x, y + 2 * PAD + SIZE, ADVICE_TITLE, { size: 12, bold: true, room: AREA.width }),
  };
  return [title, ...[...letters].map(([a, letter]) => paragraph(letter, `${ALL_ADVICE[a]!.title}: ${ALL_ADVICE[a]!.text}`, 18))];
}

const TABLE_HEAD = LINE + PAD;

function drawTableHead(drawing: Drawing, y: number): void {
  for (const [c, { heading, width }] of COLUMNS.entries()) {
    if (heading !== "") drawing.text(LEFT[c]!, y + SIZE, heading, { size: SIZE, bold: true, room: width });
  }
  drawing.path(lines([[AREA.x, y + TABLE_HEAD - 1, AREA.x + AREA.width, y + TABLE_HEAD - 1]]), { stroke: INK, "stroke-width": 1 });
}

/** The blocks in order on as many sheets as they need, with the headings of the table over the first row of each sheet. */
function onSheets(blocks: readonly Block[]): DrawContent[] {
  const sheets: DrawContent[][] = [[]];
  let y = AREA.y + PAD;
  let headed = false;
  for (const [i, block] of blocks.entries()) {
    let needed = block.height;
    for (let next = i; blocks[next]!.leads && next + 1 < blocks.length; next++) needed += blocks[next + 1]!.height;
    if (y + needed + (block.inTable && !headed ? TABLE_HEAD : 0) > AREA.y + AREA.height && y > AREA.y + PAD) {
      sheets.push([]);
      y = AREA.y + PAD;
      headed = false;
    }
    const sheet = sheets.at(-1)!;
    if (block.inTable && !headed) {
      const top = y;
      sheet.push((drawing) => drawTableHead(drawing, top));
      y += TABLE_HEAD;
      headed = true;
    }
    const top = y;
    sheet.push((drawing) => block.draw(drawing, top));
    y += block.height;
  }
  return sheets.map((parts) => (drawing) => {
    for (const draw of parts) draw(drawing);
  });
}
