import { line } from "d3-shape";
import type { Figures } from "../../sim/figures/index.js";
import { percent, spokenDuration } from "../../sim/units/text.js";
import { BAR, INK, QUIET } from "./colours.js";
import { Drawing, PICTURE_WIDTH } from "./drawing.js";
import { SHARE_PLOT_HEIGHT, sharePlot } from "./share-plot.js";
import { textWidth } from "./text.js";

const TITLE = "How often a returning visitor meets the same scene";

/** Echoes named in the picture, the strongest first. */
const NAMED = 6;

/** The share of time that shows the same scene again, against the time since the last look; echoes are marked. */
export function drawReturnCurve(document: Document, { repeat, scenes }: Figures): SVGSVGElement {
  const points = repeat.curve.filter((point): point is { afterSeconds: number; share: number } => point.share !== null);
  const highest = points.reduce((most, { share }) => Math.max(most, share), scenes.sameAtRandom);
  const drawing = new Drawing(document, {
    id: "return-curve",
    width: PICTURE_WIDTH,
    height: SHARE_PLOT_HEIGHT,
    title: TITLE,
    description: `A curve over return times up to 3 h, against the level of pure chance, ${percent(scenes.sameAtRandom)}. ${echoesInWords(repeat.echoes)}`,
  });
  drawing.heading(TITLE);
  const { x, y } = sharePlot(drawing, 10_800, Math.max(0.05, highest), "time since the last look", "same scene again");
  const chance = y(scenes.sameAtRandom);
  drawing.path(`M${x(0)} ${chance.toFixed(2)}H${x(10_800)}`, { stroke: INK, "stroke-dasharray": "6 4", fill: "none" });
  const curve = line<{ afterSeconds: number; share: number }>()
    .digits(2)
    .x((point) => x(point.afterSeconds))
    .y((point) => y(point.share));
  drawing.path(curve(points) ?? "", { stroke: BAR, "stroke-width": 1.75, fill: "none" });
  const note = `pure chance: ${percent(scenes.sameAtRandom)}`;
  drawing.text(PICTURE_WIDTH - 16, Math.max(chance - 6, 60), note, { anchor: "end", halo: true });

  const named = [...repeat.echoes].sort((a, b) => b.share - a.share).slice(0, NAMED);
  let taken: number[] = [];
  for (const { afterSeconds, share } of repeat.echoes) {
    drawing.add("circle", { cx: x(afterSeconds), cy: y(share), r: 4, fill: "none", stroke: INK, "stroke-width": 1.5 });
  }
  for (const { afterSeconds, share } of named) {
    const text = `${spokenDuration(afterSeconds)}: ${percent(share)}`;
    const middle = Math.min(x(afterSeconds), PICTURE_WIDTH - 16 - textWidth(text, 12) / 2);
    const half = textWidth(text, 12) / 2 + 6;
    if (taken.some((other) => Math.abs(other - middle) < 2 * half)) continue;
    taken = [...taken, middle];
    drawing.text(middle, Math.max(y(share) - 9, 50), text, { anchor: "middle", fill: QUIET, halo: true });
  }
  return drawing.svg;
}

function echoesInWords(echoes: Figures["repeat"]["echoes"]): string {
  if (echoes.length === 0) return "No return time stands out.";
  const told = echoes.slice(0, 5).map(({ afterSeconds, share }) => `${spokenDuration(afterSeconds)} (${percent(share)})`);
  return `Echoes after ${told.join(", ")}${echoes.length > told.length ? ` and ${echoes.length - told.length} more` : ""}.`;
}
