import { scaleLinear, scaleQuantize } from "d3-scale";
import type { ScoreMap } from "../../sim/tune/map.js";
import { plain, spokenDuration } from "../../sim/units/text.js";
import { INK, PAPER, QUIET, shades } from "./colours.js";
import { bars, Drawing, PICTURE_WIDTH, TITLE_HEIGHT } from "./drawing.js";

const TITLE = "Where to set the knobs: how often the same scene is met again";
const LEFT = 100;
const SIDE = 460;
const STRIP = 60;
const SHADES = 8;
const KEY_LEFT = LEFT + SIDE + 40;

/**
 * The score over two knobs, light where the same scene is seldom met again; the best setting and the present one are
 * marked. Shades lie evenly on a logarithmic scale, since a few settings are far worse than the rest.
 */
export function drawScoreMap(document: Document, { x, y, scores }: ScoreMap): SVGSVGElement {
  const tall = y === null ? STRIP : SIDE;
  const top = TITLE_HEIGHT + 30;
  const drawing = new Drawing(document, {
    id: "score-map",
    width: PICTURE_WIDTH,
    height: top + Math.max(tall, 280) + 56,
    title: TITLE,
    description:
      `Shades from light (seldom) to dark (often) over the step ${y === null ? `of ${x.id}` : `times of ${x.id} and ${y.id}`}. ` +
      `Best: ${settingText(x, y, "best")}. Now: ${settingText(x, y, "present")}.`,
  });
  drawing.heading(TITLE);
  const across = cells(x.values);
  const up = y === null ? [0, 1] : cells(y.values);
  const px = scaleLinear([across[0]!, across.at(-1)!], [LEFT, LEFT + SIDE]);
  const py = scaleLinear([up[0]!, up.at(-1)!], [top + tall, top]);
  const flat = scores.flat().map((score) => Math.log(Math.max(score, 1e-9)));
  const least = Math.min(...flat);
  const most = Math.max(...flat, least + 1e-6);
  // the schemes run from dark to light; much repetition is dark
  const palette = shades(SHADES).reverse();
  const shadeOf = scaleQuantize([least, most], palette.map((_, i) => i));
  const rects = palette.map((): { x: number; y: number; width: number; height: number }[] => []);
  scores.forEach((row, j) =>
    row.forEach((score, i) => {
      const left = px(across[i]!);
      const high = py(up[j + 1]!);
      rects[shadeOf(Math.log(Math.max(score, 1e-9)))]!.push({ x: left, y: high, width: px(across[i + 1]!) - left, height: py(up[j]!) - high });
    }),
  );
  palette.forEach((fill, i) => drawing.path(bars(rects[i]!), { fill, stroke: fill, "stroke-width": 0.4 }));
  drawing.add("rect", { x: LEFT, y: top, width: SIDE, height: tall, fill: "none", stroke: QUIET });
  drawAxes(drawing, { x, y }, px, py, top + tall);
  drawKey(drawing, palette, least, most, top);
  const middle = y === null ? 0.5 : null;
  const inside = (value: number, [from, to]: [number, number]): number => Math.min(Math.max(value, Math.min(from, to)), Math.max(from, to));
  const at = (which: "best" | "present"): [number, number] => [
    px(inside(x[which], px.domain() as [number, number])),
    py(inside(middle ?? y![which], py.domain() as [number, number])),
  ];
  mark(drawing, "best", ...at("best"));
  const isInside = (value: number, domain: readonly number[]): boolean => value >= Math.min(...domain) && value <= Math.max(...domain);
  const shown = isInside(x.present, px.domain()) && (y === null || isInside(y.present, py.domain()));
  if (shown) mark(drawing, "present", ...at("present"));
  const keyTop = top + SHADES * 22 + 46;
  mark(drawing, "best", KEY_LEFT + 10, keyTop);
  drawing.text(KEY_LEFT + 28, keyTop + 4, "best setting found", { fill: QUIET });
  mark(drawing, "present", KEY_LEFT + 10, keyTop + 24);
  drawing.text(KEY_LEFT + 28, keyTop + 28, shown ? "present setting" : "present setting: off this map", { fill: QUIET });
  return drawing.svg;
}

type Axes = Pick<ScoreMap, "x" | "y">;

function settingText(x: Axes["x"], y: Axes["y"], which: "best" | "present"): string {
  return [x, ...(y === null ? [] : [y])].map((axis) => `${axis.id} ${spokenDuration(axis[which])}`).join(", ");
}

/** The borders of cells around rising values. */
function cells(values: readonly number[]): number[] {
  if (values.length === 1) return [values[0]! - 0.5, values[0]! + 0.5];
  const first = values[0]! - (values[1]! - values[0]!) / 2;
  return [first, ...values.map((value, i) => (i + 1 < values.length ? (value + values[i + 1]!) / 2 : value + (value - values[i - 1]!) / 2))];
}

type Scale = ReturnType<typeof scaleLinear<number, number>>;

function drawAxes(drawing: Drawing, { x, y }: Axes, px: Scale, py: Scale, bottom: number): void {
  for (const tick of px.ticks(5)) {
    drawing.path(`M${px(tick).toFixed(2)} ${bottom}v5`, { stroke: QUIET, fill: "none" });
    drawing.text(px(tick), bottom + 18, spokenDuration(tick), { anchor: "middle", fill: QUIET });
  }
  drawing.text(LEFT + SIDE / 2, bottom + 40, `step of ${x.id}`, { anchor: "middle", room: SIDE });
  if (y === null) return;
  for (const tick of py.ticks(8)) {
    drawing.path(`M${LEFT} ${py(tick).toFixed(2)}h-5`, { stroke: QUIET, fill: "none" });
    drawing.text(LEFT - 8, py(tick) + 4, spokenDuration(tick), { anchor: "end", fill: QUIET });
  }
  drawing.text(0, py.range()[1]! - 14, `step of ${y.id}`, { room: LEFT + SIDE });
}

function drawKey(drawing: Drawing, palette: readonly string[], least: number, most: number, top: number): void {
  drawing.text(KEY_LEFT, top + 8, "same scene again, mean", { fill: QUIET });
  drawing.text(KEY_LEFT, top + 24, "over the return times", { fill: QUIET });
  palette.forEach((fill, i) => {
    const from = Math.exp(least + ((most - least) * i) / palette.length);
    const to = Math.exp(least + ((most - least) * (i + 1)) / palette.length);
    drawing.add("rect", { x: KEY_LEFT, y: top + 34 + i * 22, width: 20, height: 18, fill, stroke: QUIET });
    drawing.text(KEY_LEFT + 28, top + 48 + i * 22, `${plain(from * 100, 2)} to ${plain(to * 100, 2)} %`, { fill: QUIET, room: PICTURE_WIDTH - KEY_LEFT - 36 });
  });
}

/** A cross for the best setting, a ring for the present one, both told from any shade by their outline. */
function mark(drawing: Drawing, which: "best" | "present", x: number, y: number): void {
  const shape = which === "best" ? `M${x - 8} ${y}H${x + 8}M${x} ${y - 8}V${y + 8}` : `M${x - 7} ${y}a7 7 0 1 0 14 0a7 7 0 1 0 -14 0`;
  drawing.path(shape, { stroke: PAPER, "stroke-width": 5, fill: "none" });
  drawing.path(shape, { stroke: INK, "stroke-width": 2.25, fill: "none" });
}
