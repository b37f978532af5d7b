import { bin } from "d3-array";
import { scaleLinear } from "d3-scale";
import type { Spread } from "../../sim/spread/summary.js";
import { percent, spokenDuration } from "../../sim/units/text.js";
import { BAR, INK, QUIET } from "./colours.js";
import { bars, Drawing, lines, PICTURE_WIDTH, TEXT_SIZE, TITLE_HEIGHT } from "./drawing.js";
import { textWidth } from "./text.js";

const TITLE = "Step times as the boards come out";
const LEFT = 130;
const RIGHT = PICTURE_WIDTH - 20;
const BAND = 74;
const BARS = 48;
const CLASSES = 60;

/** What the committee was promised about step times, seconds. */
export interface StepPromise {
  readonly from: number | null;
  readonly to: number | null;
}

/** For each board how often its step time comes out at each length, all along one scale, with the promised range. */
export function drawStepSpread(document: Document, boards: Spread["boards"], promised: StepPromise | null): SVGSVGElement {
  const drawn = boards.filter(({ stepsDrawn }) => stepsDrawn.length > 0);
  const bounds = [promised?.from, promised?.to].filter((bound) => bound != null);
  const values = [...drawn.flatMap(({ step }) => [step!.min, step!.max]), ...bounds];
  const top = TITLE_HEIGHT + 24;
  const bottom = top + drawn.length * BAND;
  const drawing = new Drawing(document, {
    id: "step-spread",
    width: PICTURE_WIDTH,
    height: bottom + 46,
    title: TITLE,
    description: "For each board the share of builds at each step " +
      `time${promised === null ? "" : "; dashed lines mark the promised range"}.`,
  });
  drawing.heading(TITLE);
  const low = Math.min(...values);
  const high = Math.max(...values);
  const margin = (high - low || low) * 0.04;
  const x = scaleLinear([low - margin, high + margin], [LEFT, RIGHT]);
  drawing.path(lines(bounds.map((bound) => [x(bound), top - 4, x(bound), bottom - 8] as const)), { stroke: INK, "stroke-dasharray": "5 4", fill: "none" });
  drawn.forEach(({ id, stepsDrawn, step }, i) => {
    const base = top + (i + 1) * BAND - 8;
    const [from, to] = x.domain() as [number, number];
    const width = (to - from) / CLASSES;
    const classes = bin()
      .domain([from, to])
      .thresholds(Array.from({ length: CLASSES - 1 }, (_, k) => from + (k + 1) * width))(stepsDrawn);
    const fullest = Math.max(...classes.map(({ length }) => length));
    const y = scaleLinear([0, fullest], [0, BARS]);
    drawing.path(
      bars(classes.map((one) => ({ x: x(one.x0!) + 0.5, y: base - y(one.length), width: Math.max(1, x(one.x1!) - x(one.x0!) - 1), height: y(one.length) }))),
      { fill: BAR },
    );
    drawing.path(`M${LEFT} ${base}H${RIGHT}`, { stroke: QUIET, fill: "none" });
    drawing.text(LEFT - 8, base - 22, id, { anchor: "end", bold: true, room: LEFT - 12 });
    drawing.text(LEFT - 8, base - 6, `fullest ${percent(fullest / stepsDrawn.length)}`, { anchor: "end", fill: QUIET, room: LEFT - 12 });
    const range = `${spokenDuration(step!.p05)} to ${spokenDuration(step!.p95)} in nine of ten builds`;
    const middle = x(step!.p50);
    const half = textWidth(range, TEXT_SIZE) / 2;
    drawing.text(Math.min(Math.max(middle, LEFT + half), RIGHT - half), base - BARS - 6, range, { anchor: "middle", halo: true });
  });
  const ticks = x.ticks(7);
  drawing.path(lines(ticks.map((tick) => [x(tick), bottom - 8, x(tick), bottom - 3] as const)), { stroke: QUIET, fill: "none" });
  for (const tick of ticks) {
    const text = spokenDuration(tick);
    const most = PICTURE_WIDTH - textWidth(text, TEXT_SIZE) / 2;
    drawing.text(Math.min(x(tick), most), bottom + 12, text, { anchor: "middle", fill: QUIET });
  }
  const along = promised === null ? "step time" : "step time; dashed: the range that was promised";
  drawing.text((LEFT + RIGHT) / 2, bottom + 34, along, { anchor: "middle", fill: QUIET });
  return drawing.svg;
}
