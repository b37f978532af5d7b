import { line } from "d3-shape";
import type { Figures } from "../../sim/figures/index.js";
import { percent, spokenDuration } from "../../sim/units/text.js";
import { BAR, INK, QUIET } from "./colours.js";
import { Drawing, PICTURE_WIDTH, TEXT_SIZE } from "./drawing.js";
import type { CurveFacts } from "./return-curve.js";
import { sharePlot, sharePlotHeight } from "./share-plot.js";
import { textWidth } from "./text.js";

const TITLE = "How many visitors see a scene come back before they leave";

/** The share of visitors who see one scene twice, against how long they stay. */
export function drawVisitCurve(document: Document, { visit }: Figures, facts: CurveFacts = {}): SVGSVGElement {
  const { id = "visit-curve", before = null, width = PICTURE_WIDTH } = facts;
  const points = defined(visit);
  const here = visit.repeatShare;
  const stay = spokenDuration(visit.staySeconds);
  const drawing = new Drawing(document, {
    id,
    width,
    height: sharePlotHeight(TITLE, width),
    title: TITLE,
    description:
      points.length === 0
        ? "Not defined: the openings are shorter than a minute."
        : `A rising curve over stays up to 2 h${here === null ? "" : `; ${percent(here)} of those who stay ${stay}`}.`,
  });
  const { x, y } = sharePlot(drawing, TITLE, 7200, 1, "time that a visitor stays", "visitors who see a scene come back");
  const curve = line<{ staySeconds: number; share: number }>()
    .digits(2)
    .x((point) => x(point.staySeconds))
    .y((point) => y(point.share));
  if (before !== null) drawing.path(curve(defined(before.visit)) ?? "", { stroke: QUIET, "stroke-width": 1, fill: "none" });
  drawing.path(curve(points) ?? "", { stroke: BAR, "stroke-width": 1.75, fill: "none", "data-figure": "visit.repeatCurve" });
  let clear = 0;
  if (here !== null && visit.staySeconds <= 7200) {
    const text = `${stay}: ${percent(here)}`;
    const left = Math.min(x(visit.staySeconds) + 9, width - textWidth(text, TEXT_SIZE));
    drawing.add("circle", { cx: x(visit.staySeconds), cy: y(here), r: 4, fill: "none", stroke: INK, "stroke-width": 1.5 });
    drawing.text(left, y(here) - 9, text, { halo: true, figure: "visit.repeatShare" });
    clear = left + textWidth(text, TEXT_SIZE) + 12;
  }
  const text = "no opening is longer";
  const last = points.at(-1);
  if (last !== undefined && last.staySeconds < 7200) {
    const most = width - textWidth(text, TEXT_SIZE);
    const left = Math.max(Math.min(x(last.staySeconds) + 8, most), clear);
    if (left <= most) drawing.text(left, Math.min(y(last.share) + 16, y(0) - 6), text, { fill: QUIET, halo: true });
  }
  return drawing.svg;
}

function defined({ repeatCurve }: Figures["visit"]): { staySeconds: number; share: number }[] {
  return repeatCurve.filter((point): point is { staySeconds: number; share: number } => point.share !== null);
}
