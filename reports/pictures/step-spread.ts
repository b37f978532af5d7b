import { bin } from "d3-array";
import { scaleLinear } from "d3-scale";
import type { Spread } from "../../sim/spread/summary.js";
import { percent, spokenDuration } from "../../sim/units/text.js";
import { BAR, INK, QUIET } from "./colours.js";
import { bars, Drawing, lines, NARROW_BELOW, TEXT_SIZE, titleHeight, type FittingFacts } from "./drawing.js";
import { textWidth, wrapped } from "./text.js";

const TITLE = "Step times as the boards come out";
/** Room for the boards' names; in a narrow picture they stand above their bars. */
const WIDE = { left: 130, right: 20, band: 74 };
const NARROW = { left: 4, right: 4, band: 92 };
/** Width that the words of a tick take. */
const TICK_ROOM = 92;
const LINE = 15;
const BARS = 48;
const CLASSES = 60;

/** What the committee was promised about step times, seconds. */
export interface StepPromise {
  readonly from: number | null;
  readonly to: number | null;
}

/** For each board how often its step time comes out at each length, all along one scale, with the promised range. */
export function drawStepSpread(document: Document, boards: Spread["boards"], promised: StepPromise | null, { id, width }: FittingFacts): SVGSVGElement {
  const narrow = width < NARROW_BELOW;
  const { left, right: margin, band } = narrow ? NARROW : WIDE;
  const right = width - margin;
  const drawn = boards.filter(({ stepsDrawn }) => stepsDrawn.length > 0);
  const bounds = [promised?.from, promised?.to].filter((bound) => bound != null);
  const values = [...drawn.flatMap(({ step }) => [step!.min, step!.max]), ...bounds];
  const top = titleHeight(TITLE, width) + 24;
  const bottom = top + drawn.length * band;
  const along = wrapped(promised === null ? "step time" : "step time; dashed: the range that was promised", width, TEXT_SIZE);
  const drawing = new Drawing(document, {
    id,
    width,
    height: bottom + 46 + (along.length - 1) * LINE,
    title: TITLE,
    description: "For each board the share of builds at each step " +
      `time${promised === null ? "" : "; dashed lines mark the promised range"}.`,
  });
  drawing.heading(TITLE);
  const low = Math.min(...values);
  const high = Math.max(...values);
  const around = (high - low || low) * 0.04;
  const x = scaleLinear([low - around, high + around], [left, right]);
  drawing.path(lines(bounds.map((bound) => [x(bound), top - 4, x(bound), bottom - 8] as const)), { stroke: INK, "stroke-dasharray": "5 4", fill: "none" });
  drawn.forEach(({ id: board, stepsDrawn, step }, i) => {
    const base = top + (i + 1) * band - 8;
    const [from, to] = x.domain() as [number, number];
    const one = (to - from) / CLASSES;
    const classes = bin()
      .domain([from, to])
      .thresholds(Array.from({ length: CLASSES - 1 }, (_, k) => from + (k + 1) * one))(stepsDrawn);
    const fullest = Math.max(...classes.map(({ length }) => length));
    const y = scaleLinear([0, fullest], [0, BARS]);
    drawing.path(
      bars(classes.map(({ x0, x1, length }) => ({ x: x(x0!) + 0.5, y: base - y(length), width: Math.max(1, x(x1!) - x(x0!) - 1), height: y(length) }))),
      { fill: BAR },
    );
    drawing.path(`M${left} ${base}H${right}`, { stroke: QUIET, fill: "none" });
    const most = `tallest: ${percent(fullest / stepsDrawn.length)}`;
    if (narrow) {
      drawing.text(0, base - BARS - 22, board, { bold: true, room: width - textWidth(most, TEXT_SIZE) - 12, halo: true });
      drawing.text(width, base - BARS - 22, most, { anchor: "end", fill: QUIET, halo: true });
    } else {
      drawing.text(left - 8, base - 22, board, { anchor: "end", bold: true, room: left - 12 });
      drawing.text(left - 8, base - 6, most, { anchor: "end", fill: QUIET, room: left - 12 });
    }
    const [least, longest] = [spokenDuration(step!.p05), spokenDuration(step!.p95)];
    const range = `${least === longest ? least : `${least} to ${longest}`} in nine of ten builds`;
    const middle = x(step!.p50);
    const half = textWidth(range, TEXT_SIZE) / 2;
    drawing.text(Math.min(Math.max(middle, left + half), right - half), base - BARS - 6, range, { anchor: "middle", halo: true });
  });
  const ticks = x.ticks(Math.min(7, (right - left) / TICK_ROOM));
  drawing.path(lines(ticks.map((tick) => [x(tick), bottom - 8, x(tick), bottom - 3] as const)), { stroke: QUIET, fill: "none" });
  for (const tick of ticks) {
    const text = spokenDuration(tick);
    const half = textWidth(text, TEXT_SIZE) / 2;
    drawing.text(Math.max(half, Math.min(x(tick), width - half)), bottom + 12, text, { anchor: "middle", fill: QUIET });
  }
  along.forEach((words, i) => drawing.text((left + right) / 2, bottom + 34 + i * LINE, words, { anchor: "middle", fill: QUIET }));
  return drawing.svg;
}
