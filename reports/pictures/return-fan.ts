import { area, line } from "d3-shape";
import type { Spread } from "../../sim/spread/summary.js";
import { BAR, INK, QUIET } from "./colours.js";
import { Drawing, TEXT_SIZE, type FittingFacts } from "./drawing.js";
import { heightAfterFall, noteFall, sharePlot, sharePlotHeight } from "./share-plot.js";
import { wrapped } from "./text.js";

const TITLE = "How often a returning visitor meets the same scene, as the boards come out";
/** A tint of the bar colour; the outline of the band carries the contrast. */
const BAND = "#cfe3f2";

const NOTE = "line: the middle build; band: nine builds of ten; dotted: the highest of all";
const NOTE_LEFT = 60;
const LINE = 15;

type Point = NonNullable<Spread["curve"]>[number];

/** The fan of the return curves of many builds: the middle one, nine tenths of them, and the highest. */
export function drawReturnFan(document: Document, curve: readonly Point[], builds: number, { id, width }: FittingFacts): SVGSVGElement {
  const note = wrapped(NOTE, width - NOTE_LEFT, TEXT_SIZE);
  const ends = curve.map(({ max }) => max);
  const highest = heightAfterFall([ends], 0);
  const drawing = new Drawing(document, {
    id,
    width,
    height: sharePlotHeight(TITLE, width) + 9 + note.length * LINE,
    title: TITLE,
    description: `Over return times up to 3 h: the middle of ${builds} builds as a line, nine tenths of them as a band, the highest of ` +
      "all as a thin line.",
  });
  const plot = sharePlot(drawing, TITLE, 10_800, highest, "time since the last look", "same scene again");
  const { x } = plot;
  const y = (share: number): number => plot.y(Math.min(highest, share));
  const along = (of: (point: Point) => number): string =>
    line<Point>()
      .digits(2)
      .x((point) => x(point.afterSeconds))
      .y((point) => y(of(point)))(curve) ?? "";
  const band = area<Point>()
    .digits(2)
    .x((point) => x(point.afterSeconds))
    .y0((point) => y(point.p05))
    .y1((point) => y(point.p95));
  drawing.path(band(curve) ?? "", { fill: BAND, stroke: BAR, "stroke-width": 0.75 });
  drawing.path(along(({ max }) => max), { stroke: INK, "stroke-width": 0.9, "stroke-dasharray": "2 2", fill: "none" });
  drawing.path(along(({ p50 }) => p50), { stroke: BAR, "stroke-width": 2, fill: "none" });
  noteFall(drawing, plot, [ends]);
  note.forEach((words, i) => drawing.text(NOTE_LEFT, sharePlotHeight(TITLE, width) + 14 + i * LINE, words, { fill: QUIET }));
  return drawing.svg;
}
