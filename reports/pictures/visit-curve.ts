import { line } from "d3-shape";
import type { Figures } from "../../sim/figures/index.js";
import { percent, spokenDuration } from "../../sim/units/text.js";
import { BAR, INK, QUIET } from "./colours.js";
import { Drawing, PICTURE_WIDTH } from "./drawing.js";
import { SHARE_PLOT_HEIGHT, sharePlot } from "./share-plot.js";

const TITLE = "How many visitors see a scene come back before they leave";

/** The share of visitors who see one scene twice, against how long they stay. */
export function drawVisitCurve(document: Document, { visit }: Figures): SVGSVGElement {
  const points = visit.repeatCurve.filter((point): point is { staySeconds: number; share: number } => point.share !== null);
  const here = visit.repeatShare;
  const stay = spokenDuration(visit.staySeconds);
  const drawing = new Drawing(document, {
    id: "visit-curve",
    width: PICTURE_WIDTH,
    height: SHARE_PLOT_HEIGHT,
    title: TITLE,
    description:
      points.length === 0
        ? "Not defined: the openings are shorter than a minute."
        : `A rising curve over stays up to 2 h${here === null ? "" : `; ${percent(here)} of those who stay ${stay}`}.`,
  });
  drawing.heading(TITLE);
  const { x, y } = sharePlot(drawing, 7200, 1, "time that a visitor stays", "visitors who see a scene come back");
  const curve = line<{ staySeconds: number; share: number }>()
    .digits(2)
    .x((point) => x(point.staySeconds))
    .y((point) => y(point.share));
  drawing.path(curve(points) ?? "", { stroke: BAR, "stroke-width": 1.75, fill: "none" });
  if (points.length > 0 && points.at(-1)!.staySeconds < 7200) {
    const { staySeconds, share } = points.at(-1)!;
    const text = "no opening is longer";
    drawing.text(x(staySeconds) + 8, Math.min(y(share) + 16, y(0) - 6), text, { fill: QUIET, halo: true });
  }
  if (here !== null && visit.staySeconds <= 7200) {
    drawing.add("circle", { cx: x(visit.staySeconds), cy: y(here), r: 4, fill: "none", stroke: INK, "stroke-width": 1.5 });
    drawing.text(x(visit.staySeconds) + 9, y(here) - 9, `${stay}: ${percent(here)}`, { halo: true });
  }
  return drawing.svg;
}
