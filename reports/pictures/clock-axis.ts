import { scaleLinear, type ScaleLinear } from "d3-scale";
import { formatClock } from "../../sim/units/clock.js";
import { QUIET } from "./colours.js";
import { TEXT_SIZE, type Drawing } from "./drawing.js";
import { textWidth } from "./text.js";
import { DAY, HOUR, MINUTE, SECOND, type Micros } from "../../sim/units/time.js";

/** A stretch of one day, since the first Monday 00:00. */
export interface Stretch {
  readonly from: Micros;
  readonly until: Micros;
}

/** Distances between ticks that people count in. */
const CLOCK_STEPS: readonly Micros[] = [
  ...[0, 1, 2, 3, 4, 5].flatMap((power) => [1, 2, 5].map((digit) => digit * 10 ** power)),
  ...[1, 2, 5, 10, 15, 30].map((n) => n * SECOND),
  ...[1, 2, 5, 10, 15, 30].map((n) => n * MINUTE),
  ...[1, 2, 3, 6, 12, 24].map((n) => n * HOUR),
];

/** A scale from the time of day to pixels, with the times that its ticks stand at. */
export interface ClockAxis {
  readonly x: ScaleLinear<number, number>;
  readonly ticks: readonly { readonly x: number; readonly text: string }[];
}

/** An axis over a stretch of a day, with as many ticks as have room for their text. */
export function clockAxis({ from, until }: Stretch, left: number, right: number): ClockAxis {
  const x = scaleLinear([from, until], [left, right]);
  const midnight = Math.floor(from / DAY) * DAY;
  for (const step of CLOCK_STEPS) {
    const first = midnight + Math.ceil((from - midnight) / step) * step;
    if ((until - first) / step > right - left) continue;
    const ticks: { x: number; text: string }[] = [];
    for (let t = first; t <= until; t += step) ticks.push({ x: x(t), text: formatClock(t - midnight) });
    const widest = Math.max(0, ...ticks.map(({ text }) => textWidth(text, TEXT_SIZE)));
    if (ticks.every((tick, i) => i === 0 || tick.x - ticks[i - 1]!.x >= widest + 14)) return { x, ticks };
  }
  return { x, ticks: [] };
}

/** Ticks and times at height y, below it or above; text that would leave the picture is moved inwards. */
export function drawClockAxis(drawing: Drawing, { ticks }: ClockAxis, y: number, side: "below" | "above", right: number): void {
  const length = side === "below" ? 5 : -5;
  for (const { x, text } of ticks) {
    drawing.path(`M${x.toFixed(2)} ${y}v${length}`, { stroke: QUIET, fill: "none" });
    const half = textWidth(text, TEXT_SIZE) / 2;
    drawing.text(Math.min(x, right - half), side === "below" ? y + 18 : y - 8, text, { anchor: "middle", fill: QUIET });
  }
}
