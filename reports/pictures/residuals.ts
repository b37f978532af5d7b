import { scaleLinear } from "d3-scale";
import type { FittedBoard } from "../../sim/fit/index.js";
import { spokenDuration } from "../../sim/units/text.js";
import { BAR, GUIDE, INK, QUIET } from "./colours.js";
import { Drawing, lines, PICTURE_WIDTH, TEXT_SIZE, TITLE_HEIGHT } from "./drawing.js";
import { textWidth } from "./text.js";

const TITLE = "How far each change was from equal steps";
const LEFT = 70;
const RIGHT = PICTURE_WIDTH - 16;
const PANEL = 150;
const GAP = 64;
/** Distances between ticks that people count in, seconds. */
const DISTANCES = [1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 28_800, 86_400];
/** Boards in one picture; a log of more is shown by its first ones. */
const MOST_PANELS = 20;

/** The residuals of a stopwatch log, a panel for each board: jitter wanders, reading errors scatter, drift bends. */
export function drawResiduals(document: Document, all: readonly FittedBoard[]): SVGSVGElement {
  const boards = all.slice(0, MOST_PANELS);
  const drawing = new Drawing(document, {
    id: "residuals",
    width: PICTURE_WIDTH,
    height: TITLE_HEIGHT + boards.length * (PANEL + GAP) + 8,
    title: TITLE,
    description: `For each board, the time of every change seen against where equal steps would put it. ${boards
      .map(({ id, observations, stepSeconds }) => `${id}: ${observations} changes, step ${spokenDuration(stepSeconds)}.`)
      .join(" ")}`,
  });
  drawing.heading(TITLE);
  boards.forEach((board, i) => drawPanel(drawing, board, TITLE_HEIGHT + i * (PANEL + GAP) + 22));
  return drawing.svg;
}

function drawPanel(drawing: Drawing, { id, residuals, oddLines, missed }: FittedBoard, top: number): void {
  const bottom = top + PANEL;
  const most = Math.max(0.05, ...residuals.map(({ residualSeconds }) => Math.abs(residualSeconds)));
  const x = scaleLinear([residuals[0]!.atSeconds, residuals.at(-1)!.atSeconds], [LEFT + 8, RIGHT - 8]);
  const y = scaleLinear([-most, most], [bottom - 8, top + 8]);
  const remarks = [
    ...(missed > 0 ? [`ring: changes missed before it (${missed} in all)`] : []),
    ...(oddLines.length > 0 ? ["gap: no whole number of steps"] : []),
  ];
  drawing.text(0, top - 8, id, { bold: true, room: 300 });
  drawing.text(RIGHT, top - 8, remarks.join("; "), { anchor: "end", fill: QUIET, room: RIGHT - 310 });
  const ticks = y.ticks(4);
  drawing.path(lines(ticks.map((tick) => [LEFT, y(tick), RIGHT, y(tick)] as const)), { stroke: GUIDE, fill: "none" });
  for (const tick of ticks) drawing.text(LEFT - 8, y(tick) + 4, `${tick > 0 ? "+" : ""}${tick === 0 ? "0" : spokenDuration(tick)}`, { anchor: "end", fill: QUIET });
  drawing.path(`M${LEFT} ${y(0).toFixed(2)}H${RIGHT}`, { stroke: QUIET, fill: "none" });
  let path = "";
  residuals.forEach(({ atSeconds, residualSeconds, anew }, i) => {
    path += `${i === 0 || anew ? "M" : "L"}${x(atSeconds).toFixed(2)} ${y(residualSeconds).toFixed(2)}`;
  });
  drawing.path(path, { stroke: BAR, "stroke-width": 1.25, fill: "none" });
  const size = residuals.length > 200 ? 1.5 : 3;
  for (const { atSeconds, residualSeconds, missed: before } of residuals) {
    drawing.add("circle", { cx: x(atSeconds), cy: y(residualSeconds), r: size, fill: BAR });
    if (before > 0) drawing.add("circle", { cx: x(atSeconds), cy: y(residualSeconds), r: size + 3, fill: "none", stroke: INK });
  }
  drawing.path(`M${LEFT} ${bottom}H${RIGHT}`, { stroke: QUIET, fill: "none" });
  const [first, last] = x.domain() as [number, number];
  const every = DISTANCES.find((distance) => (last - first) / distance <= 7) ?? (last - first) / 6;
  for (let tick = Math.ceil(first / every) * every; tick <= last; tick += every) {
    drawing.path(`M${x(tick).toFixed(2)} ${bottom}v5`, { stroke: QUIET, fill: "none" });
    const text = tick === 0 ? "0" : spokenDuration(tick);
    drawing.text(Math.min(x(tick), PICTURE_WIDTH - textWidth(text, TEXT_SIZE) / 2), bottom + 18, text, { anchor: "middle", fill: QUIET });
  }
  drawing.text((LEFT + RIGHT) / 2, bottom + 34, "time on the stopwatch", { anchor: "middle", fill: QUIET });
}
