import type { Scenario } from "../../sim/model/scenario.js";
import { boardTimes } from "../../sim/timers/boardtimes.js";
import { spokenDuration } from "../../sim/units/text.js";
import { GUIDE, INK } from "../pictures/colours.js";
import { lines, type Drawing } from "../pictures/drawing.js";
import { wrapped } from "../pictures/text.js";
import { AREA, cardSheets, type CardInput, type CardSheet } from "./sheet.js";

/** The log sheet of a display: what it was set to, and rows for whatever is changed later. */

const COLUMNS = [
  { heading: "date", x: 0 },
  { heading: "board", x: 92 },
  { heading: "what was changed, and why", x: 190 },
  { heading: "new step time", x: 468 },
  { heading: "by", x: 590 },
] as const;
const ROW = 30;
const LINE = 14;
const SIZE = 12;

/** One sheet for the whole display. */
export function logSheet(input: CardInput): Iterable<CardSheet> {
  const description = "The step times of all boards as they were planned, and empty rows for the date, the board, what was changed, the " +
    "new step time and the name of who did it.";
  const facts = { name: "log", heading: "Log sheet", description };
  return cardSheets(input, facts, [(drawing) => drawLog(drawing, input.scenario)]);
}

function drawLog(drawing: Drawing, scenario: Scenario): void {
  const times = boardTimes(scenario);
  const planned = scenario.boards.map(({ id }, b) => `${id} ${spokenDuration(times[b]!.stepSeconds)}`).join(", ");
  const words = `Planned step times: ${planned}. Whoever turns a knob, changes a part, a lamp or a wire writes a row here, and then ` +
    "changes the scenario file: lampdrift cards --since tells which cards have to be printed again.";
  const told = wrapped(words, AREA.width, SIZE);
  // of a display with very many boards the sheet keeps room for rows
  const lead = told.slice(0, 20);
  lead.forEach((line, i) => drawing.text(0, AREA.y + 12 + i * LINE, line, { size: SIZE, room: AREA.width }));
  let y = AREA.y + lead.length * LINE + 14;
  COLUMNS.forEach(({ heading, x }) => drawing.text(x, y + 11, heading, { size: SIZE, bold: true }));
  y += 18;
  drawing.path(lines([[0, y, AREA.width, y]]), { stroke: INK, "stroke-width": 1 });
  const top = y;
  for (; y + ROW <= AREA.y + AREA.height - 2; y += ROW) {
    drawing.path(lines([[0, y + ROW, AREA.width, y + ROW]]), { stroke: GUIDE, "stroke-width": 0.75 });
  }
  for (const { x } of COLUMNS.slice(1)) drawing.path(lines([[x - 6, top, x - 6, y]]), { stroke: GUIDE, "stroke-width": 0.75 });
}
