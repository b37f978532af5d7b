import { INK } from "../pictures/colours.js";
import { lines, type Drawing } from "../pictures/drawing.js";
import { wrapped } from "../pictures/text.js";
import { MM } from "./sheet.js";

/** Millimetres. */
const LENGTH = 100;
const SIZE = 11;
const WORDS = `This line is ${LENGTH} mm long: if not, print at 100 %, without "fit to page". The dial shares this scale.`;

export const RULER_HEIGHT = 34;

/** A line to hold a ruler to, from (x, y) to the right, with what it is for in the room to its right. */
export function drawRuler(drawing: Drawing, x: number, y: number, room: number): void {
  const at = (mm: number): number => x + mm * MM;
  const base = y + 14;
  // a path of its own, its length not rounded
  drawing.path(`M${x} ${base}h${LENGTH * MM}`, { "data-millimetres": LENGTH, stroke: INK, "stroke-width": 1, fill: "none" });
  const tens = Array.from({ length: LENGTH / 10 + 1 }, (_, i) => i * 10);
  drawing.path(lines(tens.map((mm) => [at(mm), base - (mm % 50 === 0 ? 12 : 7), at(mm), base])), { stroke: INK, "stroke-width": 1 });
  drawing.text(x, base + 13, "0", { size: SIZE });
  drawing.text(at(LENGTH / 2), base + 13, `${LENGTH / 2}`, { size: SIZE, anchor: "middle" });
  drawing.text(at(LENGTH), base + 13, `${LENGTH} mm`, { size: SIZE, anchor: "end" });
  const left = at(LENGTH) + 16;
  wrapped(WORDS, room - LENGTH * MM - 16, SIZE).forEach((line, i) => drawing.text(left, y + 12 + i * 14, line, { size: SIZE }));
}
