import { line } from "d3-shape";
import { QUIET } from "./colours.js";
import { Drawing, PICTURE_WIDTH } from "./drawing.js";
import { sharePlot, sharePlotHeight } from "./share-plot.js";

const TITLE = "How often a returning visitor meets the same scene, alternative by alternative";

export interface OverlayCurve {
  readonly name: string;
  readonly points: readonly { readonly afterSeconds: number; readonly share: number }[];
}

/** Okabe and Ito's colours that stand out from paper; the dashes tell lines apart without colour. */
const LINES = [
  { stroke: "#0072b2", dashes: "" },
  { stroke: "#d55e00", dashes: "7 3" },
  { stroke: "#1b1f24", dashes: "2 3" },
  { stroke: "#009e73", dashes: "10 3 2 3" },
  { stroke: "#cc79a7", dashes: "4 2" },
  { stroke: "#505a64", dashes: "12 4" },
] as const;
/** Curves in one picture; more of them could not be told apart. */
export const MOST_CURVES = LINES.length;
const ROW = 20;

/** The return curves of alternatives over each other, each the mean over its builds. */
export function drawOverlay(document: Document, all: readonly OverlayCurve[]): SVGSVGElement {
  const curves = all.slice(0, MOST_CURVES);
  const plotHeight = sharePlotHeight(TITLE, PICTURE_WIDTH);
  const drawing = new Drawing(document, {
    id: "overlay",
    width: PICTURE_WIDTH,
    height: plotHeight + 8 + curves.length * ROW,
    title: TITLE,
    description: "Curves over return times up to 3 h, each the mean over the builds of one alternative: " +
      `${curves.map(({ name }) => name).join("; ")}.`,
  });
  const highest = Math.max(0.05, ...curves.flatMap(({ points }) => points.map(({ share }) => share)));
  const { x, y } = sharePlot(drawing, TITLE, 10_800, highest, "time since the last look", "same scene again");
  const along = line<OverlayCurve["points"][number]>()
    .digits(2)
    .x(({ afterSeconds }) => x(afterSeconds))
    .y(({ share }) => y(share));
  curves.forEach(({ name, points }, i) => {
    const { stroke, dashes } = LINES[i]!;
    const style = { stroke, "stroke-width": 2, fill: "none", ...(dashes === "" ? {} : { "stroke-dasharray": dashes }) };
    drawing.path(along(points) ?? "", style);
    const top = plotHeight + 12 + i * ROW;
    drawing.path(`M60 ${top - 4}H110`, style);
    drawing.text(120, top, name, { fill: QUIET, room: PICTURE_WIDTH - 136 });
  });
  return drawing.svg;
}
