import { line } from "d3-shape";
import type { Figures } from "../../sim/figures/index.js";
import { percent, spokenDuration } from "../../sim/units/text.js";
import { BAR, INK, QUIET } from "./colours.js";
import { Drawing, PICTURE_WIDTH, TEXT_SIZE, type Rect } from "./drawing.js";
import { meet } from "./labels.js";
import { heightAfterFall, noteFall, sharePlot, sharePlotHeight } from "./share-plot.js";
import { textWidth } from "./text.js";

const TITLE = "How often a returning visitor meets the same scene";

/** Echoes named in the picture, the strongest first. */
const NAMED = 6;

/** How a curve stands in its page. */
export interface CurveFacts {
  /** Unique among the pictures of the page. */
  readonly id?: string;
  /** Drawn as a thin line behind; null: nothing was different before. */
  readonly before?: Figures | null;
  /** Pixels; on a phone fewer than elsewhere. */
  readonly width?: number;
}

/** The share of time that shows the same scene again, against the time since the last look; echoes are marked. */
export function drawReturnCurve(document: Document, { repeat, scenes }: Figures, facts: CurveFacts = {}): SVGSVGElement {
  const { id = "return-curve", before = null, width = PICTURE_WIDTH } = facts;
  const points = defined(repeat.curve);
  const past = defined(before?.repeat.curve ?? []);
  const curves = [points, past].map((curve) => curve.map(({ share }) => share)).filter(({ length }) => length > 0);
  const highest = heightAfterFall(curves, scenes.sameAtRandom);
  const drawing = new Drawing(document, {
    id,
    width,
    height: sharePlotHeight(TITLE, width),
    title: TITLE,
    description: `A curve over return times up to 3 h, against the level of pure chance, ${percent(scenes.sameAtRandom)}. ` +
      echoesInWords(repeat.echoes),
  });
  const plot = sharePlot(drawing, TITLE, 10_800, highest, "time since the last look", "same scene again");
  const { x, y } = plot;
  const chance = y(scenes.sameAtRandom);
  drawing.path(`M${x(0)} ${chance.toFixed(2)}H${x(10_800)}`, { stroke: INK, "stroke-dasharray": "6 4", fill: "none" });
  const curve = line<{ afterSeconds: number; share: number }>()
    .digits(2)
    .x((point) => x(point.afterSeconds))
    .y((point) => y(Math.min(highest, point.share)));
  drawing.path(curve(past) ?? "", { stroke: QUIET, "stroke-width": 1, fill: "none" });
  drawing.path(curve(points) ?? "", { stroke: BAR, "stroke-width": 1.75, fill: "none", "data-figure": "repeat.curve" });
  noteFall(drawing, plot, curves);
  const note = `pure chance: ${percent(scenes.sameAtRandom)}`;
  const noteEnd = width - 16;
  drawing.text(noteEnd, chance - 6, note, { anchor: "end", halo: true, figure: "scenes.sameAtRandom" });

  const named = [...repeat.echoes].sort((a, b) => b.share - a.share).slice(0, NAMED);
  const taken = [textBox(note, noteEnd - textWidth(note, TEXT_SIZE) / 2, chance - 6)];
  for (const { afterSeconds, share } of repeat.echoes) {
    drawing.add("circle", { cx: x(afterSeconds), cy: y(share), r: 4, fill: "none", stroke: INK, "stroke-width": 1.5 });
  }
  for (const echo of named) {
    const { afterSeconds, share } = echo;
    const text = `${spokenDuration(afterSeconds)}: ${percent(share)}`;
    const half = textWidth(text, TEXT_SIZE) / 2;
    const middle = Math.min(Math.max(x(afterSeconds), x(0) + 4 + half), width - 16 - half);
    const box = textBox(text, middle, y(share) - 9);
    if (taken.some((other) => meet(box, other, 6))) continue;
    taken.push(box);
    drawing.text(middle, y(share) - 9, text, { anchor: "middle", fill: QUIET, halo: true, figure: `repeat.echoes[${repeat.echoes.indexOf(echo)}]` });
  }
  return drawing.svg;
}

function defined(curve: Figures["repeat"]["curve"]): { afterSeconds: number; share: number }[] {
  return curve.filter((point): point is { afterSeconds: number; share: number } => point.share !== null);
}

/** The room that a line of text takes whose middle and baseline are given. */
function textBox(text: string, middle: number, baseline: number): Rect {
  const width = textWidth(text, TEXT_SIZE);
  return { x: middle - width / 2, y: baseline - TEXT_SIZE, width, height: TEXT_SIZE + 3 };
}

function echoesInWords(echoes: Figures["repeat"]["echoes"]): string {
  if (echoes.length === 0) return "There is no echo.";
  const told = echoes.slice(0, 5).map(({ afterSeconds, share }) => `${spokenDuration(afterSeconds)} (${percent(share)})`);
  return `Echoes after ${told.join(", ")}${echoes.length > told.length ? ` and ${echoes.length - told.length} more` : ""}.`;
}
