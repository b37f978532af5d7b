import type { KnobFigures, KnobRow } from "../../sim/knob/index.js";
import { spoken } from "../../sim/parts/prose.js";
import { duration, ohms } from "../../sim/units/quantities.js";
import { INK, QUIET } from "../pictures/colours.js";
import { lines, type Drawing } from "../pictures/drawing.js";
import { spanText, timeText, travelText, turnText } from "./knob-times.js";

const LINE = 15;
const HEAD = 34;

/** Right edge of every column but the last, which begins at its `left`. */
const COLUMNS = [
  { heads: ["step time"], right: 218 },
  { heads: ["of travel"], right: 292 },
  { heads: ["degrees from", "the left stop"], right: 382 },
  { heads: ["trimmer", "in circuit"], right: 462 },
] as const;
const LAST = { heads: ["step times that parts inside", "their tolerances give here"], left: 486 } as const;

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
    const gap = Math.min(...[rows[i - 1], rows[i + 1]].flatMap((next) => (next === undefined ? [] : Math.abs(next.seconds - row.seconds) || [])));
    const step = bold && "step" in trimmer.setting ? duration.format(trimmer.setting.step) : stepText(row, gap);
    if (bold) drawing.add("rect", { x: 0.5, y: base - 11.5, width: width - 1, height: LINE, fill: "none", stroke: INK, "stroke-width": 1.5 });
    drawing.text(8, base, nameOf(row), { bold, room: 114 });
    const cells = [step, travelText(row.dial), turnText(row.dial), spoken(ohms, row.ohms)];
    cells.forEach((text, c) => drawing.text(COLUMNS[c]!.right, base, text, { anchor: "end", bold, room: c === 0 ? 90 : 78 }));
    drawing.text(LAST.left, base, spanText(row.steps), { bold, room: width - LAST.left - 6 });
  });
}

function stepText({ kind, seconds }: KnobRow, gap: number): string {
  if (!Number.isFinite(seconds)) return "never clocks";
  return kind === "round" ? duration.format(seconds) : timeText(seconds, gap);
}

function nameOf({ kind }: KnobRow): string {
  return { "low end": "left stop", "high end": "right stop", set: "set mark", stalls: "stalls from here on", round: "" }[kind];
}
