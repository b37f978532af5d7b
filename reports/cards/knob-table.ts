import type { KnobFigures, KnobRow } from "../../sim/knob/index.js";
import { spoken } from "../../sim/parts/prose.js";
import { duration, ohms } from "../../sim/units/quantities.js";
import { INK, QUIET } from "../pictures/colours.js";
import { lines, type Drawing } from "../pictures/drawing.js";
import { textWidth } from "../pictures/text.js";
import { roundText, spanText, timeText, travelText, turnText } from "./knob-times.js";

const LINE = 15;
const HEAD = 34;

/** Right edge of every column but the last, which begins at its `left`. */
const COLUMNS = [
  { heads: ["step time"], right: 230 },
  { heads: ["of travel"], right: 292 },
  { heads: ["degrees from", "the left stop"], right: 374 },
  { heads: ["trimmer", "in circuit"], right: 452 },
] as const;
const LAST = { heads: ["step times that parts inside", "their tolerances give here"], left: 474 } as const;

/** Share of a step time below which two ends of a range are the same. */
const ENOUGH = 1e-4;
const STEP_ROOM = 116;

/** Height of the table in drawing units. */
export function tableHeight({ rows }: KnobFigures): number {
  return HEAD + rows.length * LINE + 6;
}

/** The table over the whole width, its top at y. */
export function drawTable(drawing: Drawing, y: number, width: number, { rows, trimmer }: KnobFigures): void {
  const head = (heads: readonly string[], x: number, anchor: "start" | "end"): void =>
    heads.forEach((text, i) => drawing.text(x, y + HEAD - 8 - (heads.length - 1 - i) * 13, text, { anchor, size: 11, fill: QUIET }));
  for (const { heads, right } of COLUMNS) head(heads, right, "end");
  head(LAST.heads, LAST.left, "start");
  drawing.path(lines([[0, y + HEAD - 3, width, y + HEAD - 3]]), { stroke: INK, "stroke-width": 0.75 });
  rows.forEach((row, i) => {
    const base = y + HEAD + (i + 1) * LINE - 4;
    const bold = row.kind === "set";
    // stalled rows have no distance
    const gap = Math.min(...[rows[i - 1], rows[i + 1]].map((next) => Math.abs((next?.seconds ?? Infinity) - row.seconds)).filter((apart) => apart > 0));
    const first = (wordings: readonly string[], room: number): string => wordings.find((text) => textWidth(text, 12, bold) <= room) ?? wordings.at(-1)!;
    const exact = bold && trimmer.setting.kind === "step" ? [duration.format(trimmer.setting.step)] : [];
    const step = first([...exact, stepText(row, gap), stepText(row, Infinity)], STEP_ROOM);
    drawing.text(8, base, nameOf(row), { bold, room: 104 });
    const cells = [step, travelText(row.dial), turnText(row.dial), spoken(ohms, row.ohms)];
    cells.forEach((text, c) => drawing.text(COLUMNS[c]!.right, base, text, { anchor: "end", bold, room: c === 0 ? STEP_ROOM : 78 }));
    const room = width - LAST.left - 6;
    drawing.text(LAST.left, base, first([spanText(row.steps, ENOUGH), spanText(row.steps, 1)], room), { bold, room });
  });
}

function stepText({ kind, seconds }: KnobRow, gap: number): string {
  if (!Number.isFinite(seconds)) return "never clocks";
  return kind === "round" ? roundText(seconds) : timeText(seconds, gap);
}

function nameOf({ kind }: KnobRow): string {
  return { "low end": "scale begins", "high end": "scale ends", set: "set mark", stalls: "stalls from here", round: "" }[kind];
}
