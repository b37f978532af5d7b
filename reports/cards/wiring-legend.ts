import type { Device } from "../../sim/netlist/index.js";
import { INK, PAPER } from "../pictures/colours.js";
import { wrapped } from "../pictures/text.js";
import type { Harnessed } from "./wiring-board.js";
import { SMALL, type Plan } from "./wiring-plan.js";

/** What the signs of the plan mean, and what its chips are. */

const LINE = 13;
const INDENT = 30;
const GAP = 4;

type Sample = "number" | "flag" | "plus" | "minus" | "chip" | "block";

const MEANINGS: readonly (readonly [Sample, string])[] = [
  ["number", "number of a wire, as in the table"],
  ["flag", "goes on at the flag with the same number"],
  ["plus", "to the plus rail"],
  ["minus", "to the minus rail"],
  ["chip", "chip seen from above, notch at the top"],
];
const BLOCK_MEANING = ["block", "programmed or ready-made part: terminals by name"] as const;

interface Entry {
  readonly sample: Sample | null;
  readonly lines: readonly string[];
}

function entries(board: Harnessed, width: number): Entry[] {
  const devices = board.netlist.devices;
  const blocks = devices.some(({ role, pins }) => ["timer", "divider", "counter", "driver"].includes(role) && pins.every(({ number }) => number === null));
  const meanings = blocks ? [...MEANINGS, BLOCK_MEANING] : MEANINGS;
  const types = ["timer", "divider", "counter", "gate"].flatMap((role) => devices.filter((device) => device.role === role));
  return [
    ...meanings.map(([sample, text]) => ({ sample, lines: wrapped(text, width - INDENT, SMALL) })),
    ...[...types.map(({ name, type }) => `${name}: ${type}`), ...driversInWords(board.having("driver"))].map((text) => ({
      sample: null,
      lines: wrapped(text, width, SMALL),
    })),
  ];
}

function driversInWords(drivers: readonly Device[]): string[] {
  const [first] = drivers;
  if (first === undefined) return [];
  return [`${drivers.length === 1 ? first.name : `drivers 1 to ${drivers.length}`}: ${first.type}`];
}

export function legendHeight(board: Harnessed, width: number): number {
  return entries(board, width).reduce((sum, { lines }) => sum + lines.length * LINE + GAP, 0);
}

export function drawLegend(plan: Plan, board: Harnessed, x: number, y: number, width: number): void {
  let top = y;
  for (const { sample, lines } of entries(board, width)) {
    if (sample !== null) drawSample(plan, sample, x, top + 8);
    lines.forEach((text, i) => plan.drawing.text(sample === null ? x : x + INDENT, top + 11 + i * LINE, text, { size: SMALL }));
    top += lines.length * LINE + GAP;
  }
}

function drawSample(plan: Plan, sample: Sample, x: number, y: number): void {
  const outline = { fill: PAPER, stroke: INK };
  switch (sample) {
    case "plus":
    case "minus":
      plan.sign(x + 11, y, sample);
      return;
    case "chip":
    case "block":
      plan.drawing.add("rect", { x: x + 1, y: y - 6, width: 22, height: 12, ...outline, "stroke-width": 1.5, ...(sample === "block" ? { "stroke-dasharray": "6 3" } : {}) });
      if (sample === "chip") plan.drawing.path(`M${x + 9} ${y - 6}a3 3 0 0 0 6 0`, { fill: "none", stroke: INK, "stroke-width": 1 });
      return;
    case "number":
    case "flag":
      plan.drawing.add("rect", { x: x + 1, y: y - 7.5, width: 17, height: 15, rx: 7.5, ...outline, "stroke-width": 0.9 });
      plan.drawing.text(x + 9.5, y + 4, "n", { size: SMALL, anchor: "middle" });
      if (sample === "flag") plan.drawing.path(`M${x + 18} ${y - 5}L${x + 24} ${y}L${x + 18} ${y + 5}z`, { fill: INK });
  }
}
