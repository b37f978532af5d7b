import { chooseMarks, roundMarks, type KnobFigures, type KnobScale, type Mark, type Span } from "../../sim/knob/index.js";
import { duration } from "../../sim/units/quantities.js";
import { spokenDuration } from "../../sim/units/text.js";
import { INK, PAPER, QUIET } from "../pictures/colours.js";
import { decimal, lines, type Drawing, type Rect } from "../pictures/drawing.js";
import { textWidth } from "../pictures/text.js";
import { roundText, SLACK, TURN } from "./knob-times.js";
import { MM } from "./sheet.js";

/** Radii of the dial in millimetres, from the middle outwards. */
const RADIUS = { hole: 3.5, knob: 11.5, labels: 28, fine: 31, middle: 30, long: 28.8, scale: 33, band: 33.5, bandEnd: 35.5, risk: 35.9, riskEnd: 37, tip: 37.1, base: 40.5, cut: 41.5 };

/** Millimetres across the paper, and across the knob that leaves all of the scale to be seen. */
export const DIAL_MM = 2 * RADIUS.cut;
export const KNOB_MM = 2 * RADIUS.knob;
/** Radius of the scale's circle. */
export const SCALE_MM = RADIUS.scale;

/** Shades of the bands; either has an outline. */
export const BAND = { all: "#d5dbe1", usual: "#7d8893" } as const;

/** Marks are at least so far apart along the scale. */
const MARK_GAP_MM = 1.4;
/** Marks with labels are at least so far apart. */
const LABEL_GAP_MM = 8;
/** Where labels would be farther apart than this, single marks get one as well. */
const LABEL_HOLE_MM = 30;
const LABEL = 11;

/** Share of the travel that lies in so many millimetres along the scale. */
function travelOf(mm: number): number {
  return mm / ((TURN / 180) * Math.PI * RADIUS.scale);
}

/** Which places of the dial to shade: those in which the knob ends, or whose step time a fixed knob may turn out to have. */
export function bandSpans({ setBand, stayBand, scale }: KnobFigures): { readonly all: Span; readonly usual: Span | null } {
  if (setBand !== null) return setBand;
  const placed = ({ from, to }: Span): Span => ({ from: placeOf(from), to: placeOf(to) });
  const placeOf = (seconds: number): number => (seconds <= scale.least ? 0 : seconds >= scale.most ? (scale.stallsFrom ?? 1) : scale.dialAt(seconds));
  return { all: placed(stayBand!.all), usual: stayBand!.usual && placed(stayBand!.usual) };
}

/** The paper dial, its middle at (x, y). */
export function drawDial(drawing: Drawing, x: number, y: number, figures: KnobFigures): void {
  const { scale, set, slowStallsFrom } = figures;
  const dial = new Dial(drawing, x, y);
  const end = scale.stallsFrom ?? 1;
  dial.circle(RADIUS.cut, { stroke: QUIET, "stroke-width": 0.75, "stroke-dasharray": "5 3" });
  dial.circle(RADIUS.knob, { stroke: QUIET, "stroke-width": 0.75, "stroke-dasharray": "1.5 2.5" });
  dial.circle(RADIUS.hole, { stroke: QUIET, "stroke-width": 0.75 });
  drawing.path(lines([[x - 8, y, x + 8, y], [x, y - 8, x, y + 8]]), { stroke: QUIET, "stroke-width": 0.75 });

  const { all, usual } = bandSpans(figures);
  dial.ring(all, RADIUS.band, RADIUS.bandEnd, { fill: BAND.all, stroke: INK, "stroke-width": 0.75 });
  if (usual !== null) dial.ring(usual, RADIUS.band, RADIUS.bandEnd, { fill: BAND.usual, stroke: INK, "stroke-width": 0.75 });
  if (scale.stallsFrom !== null) dial.hatch(scale.stallsFrom, RADIUS.long, RADIUS.scale, "crossed");
  if (slowStallsFrom !== null && slowStallsFrom < end) dial.hatch(slowStallsFrom, RADIUS.risk, RADIUS.riskEnd, "plain");

  drawScale(drawing, dial, scale);
  dial.pointer(set.dial);
  drawNames(drawing, x, y, figures);
}

/** The stops, as places beyond the ends of the scale: between them nothing changes. */
const STOPS = [-SLACK / TURN, 1 + SLACK / TURN] as const;

/** The scale round the knob: marks with their step times, an arc over them, and a thin one on to the stops. */
export function drawScale(drawing: Drawing, dial: Dial, scale: KnobScale): void {
  drawMarks(dial, scale);
  dial.arc({ from: 0, to: 1 }, RADIUS.scale, { stroke: INK, "stroke-width": 1.5 });
  drawing.path(lines([0, 1].map((end) => [...dial.at(end, RADIUS.scale), ...dial.at(end, RADIUS.long)] as const)), { stroke: INK, "stroke-width": 1.5 });
  for (const [stop, end] of [[STOPS[0], 0], [STOPS[1], 1]] as const) {
    dial.arc({ from: Math.min(stop, end), to: Math.max(stop, end) }, RADIUS.scale, { stroke: QUIET, "stroke-width": 0.75 });
    drawing.path(lines([[...dial.at(stop, RADIUS.scale - 1.2), ...dial.at(stop, RADIUS.scale + 1.2)]]), { stroke: QUIET, "stroke-width": 2.5 });
  }
}

function drawNames(drawing: Drawing, x: number, y: number, { id, set, trimmer }: KnobFigures): void {
  const exact = trimmer.setting.kind === "step" ? duration.format(trimmer.setting.step) : spokenDuration(set.seconds);
  // the gap between the stops is narrow
  const room = 27 * MM;
  const wordings = [`set ${exact}`, exact, spokenDuration(set.seconds)];
  const shown = wordings.find((words) => textWidth(words, 12, true) <= room) ?? wordings.at(-1)!;
  drawing.text(x, y + 31.2 * MM, id, { anchor: "middle", bold: true, room });
  drawing.text(x, y + 34.9 * MM, shown, { anchor: "middle", bold: true, room });
  drawing.text(x, y + 38.4 * MM, "step time", { anchor: "middle", size: LABEL, fill: QUIET });
}

function drawMarks(dial: Dial, scale: KnobScale): void {
  const groups = roundMarks(scale, travelOf(MARK_GAP_MM));
  const labels = new Map(groups.flatMap(({ marks }) => marks.map((mark) => [mark, dial.label(mark)] as const)));
  const apart = travelOf(LABEL_GAP_MM);
  const fits = (mark: Mark, chosen: readonly Mark[]): boolean => {
    const { box, inside } = labels.get(mark)!;
    return inside && chosen.every((other) => Math.abs(other.dial - mark.dial) >= apart && !meet(box, labels.get(other)!.box));
  };
  const labelled = new Set(chooseMarks(groups, travelOf(LABEL_HOLE_MM), fits));
  for (const mark of labelled) dial.write(labels.get(mark)!);
  const coarse = new Set(groups.map(({ marks }, g) => (marks.some((mark) => labelled.has(mark)) ? g : null)));
  for (const { marks, within } of groups) {
    for (const mark of marks) {
      const long = labelled.has(mark);
      const inner = long ? RADIUS.long : within === null || coarse.has(within) ? RADIUS.middle : RADIUS.fine;
      dial.tick(mark.dial, inner, long ? 1.5 : 0.75);
    }
  }
}

interface Label {
  readonly text: string;
  readonly box: Rect;
  /** False where it would reach under the knob. */
  readonly inside: boolean;
}

/** True for boxes with less than a letter's gap between them. */
function meet(one: Rect, other: Rect): boolean {
  const gap = 4;
  return (
    one.x < other.x + other.width + gap && other.x < one.x + one.width + gap && one.y < other.y + other.height + 1 && other.y < one.y + one.height + 1
  );
}

/** Draws round a middle: places are shares of the travel, radii are millimetres. */
export class Dial {
  constructor(
    private readonly drawing: Drawing,
    private readonly x: number,
    private readonly y: number,
    /** Size of the step times at the marks. */
    private readonly labelSize = LABEL,
  ) {}

  at(place: number, radius: number): [number, number] {
    const angle = ((place - 0.5) * TURN * Math.PI) / 180;
    return [this.x + radius * MM * Math.sin(angle), this.y - radius * MM * Math.cos(angle)];
  }

  circle(radius: number, attributes: Record<string, string | number>): void {
    this.drawing.add("circle", { cx: this.x, cy: this.y, r: radius * MM, fill: "none", ...attributes });
  }

  arc(span: Span, radius: number, attributes: Record<string, string | number>): void {
    this.drawing.path(`M${this.point(span.from, radius)}${this.along(span, radius)}`, { fill: "none", ...attributes });
  }

  ring({ from, to }: Span, inner: number, outer: number, attributes: Record<string, string | number>): void {
    const back = this.along({ from: to, to: from }, inner);
    this.drawing.path(`M${this.point(from, outer)}${this.along({ from, to }, outer)}L${this.point(to, inner)}${back}z`, attributes);
  }

  /** Hatches from a place to the high end. */
  hatch(from: number, inner: number, outer: number, how: "plain" | "crossed"): void {
    const step = travelOf(1.6);
    const strokes: [number, number, number, number][] = [];
    for (let place = from; place < 1; place += step) {
      const next = Math.min(1, place + step);
      strokes.push([...this.at(place, inner), ...this.at(next, outer)]);
      if (how === "crossed") strokes.push([...this.at(place, outer), ...this.at(next, inner)]);
    }
    this.drawing.path(lines(strokes), { stroke: INK, "stroke-width": 0.75, fill: "none" });
    this.ring({ from, to: 1 }, inner, outer, { fill: "none", stroke: INK, "stroke-width": 0.75 });
  }

  tick(place: number, inner: number, width: number): void {
    this.drawing.path(lines([[...this.at(place, RADIUS.scale), ...this.at(place, inner)]]), { stroke: INK, "stroke-width": width });
  }

  /** The bold set mark: a triangle outside, and a line to the scale. */
  pointer(place: number): void {
    const half = travelOf(2.6) * (RADIUS.scale / RADIUS.base);
    drawLine(this.drawing, this.at(place, RADIUS.scale - 0.4), this.at(place, RADIUS.tip), PAPER, 5);
    drawLine(this.drawing, this.at(place, RADIUS.long), this.at(place, RADIUS.tip + 1), INK, 2.5);
    this.drawing.path(`M${this.point(place, RADIUS.tip)}L${this.point(place - half, RADIUS.base)}L${this.point(place + half, RADIUS.base)}z`, { fill: INK });
  }

  /** A label just inside its mark. */
  label(mark: Mark): Label {
    const text = roundText(mark.seconds);
    const [w, h] = [textWidth(text, this.labelSize) / 2, this.labelSize * 0.55];
    const [ex, ey] = this.at(mark.dial, 1);
    const [sx, sy] = [(ex - this.x) / MM, (ey - this.y) / MM];
    // how far out its middle may be for the outermost corner to stay on the circle of the labels
    const reach = Math.abs(sx) * w + Math.abs(sy) * h;
    const out = -reach + Math.sqrt(reach * reach - w * w - h * h + (RADIUS.labels * MM) ** 2);
    const [cx, cy] = [this.x + out * sx, this.y + out * sy];
    const nearest = Math.hypot(Math.max(0, Math.abs(out * sx) - w), Math.max(0, Math.abs(out * sy) - h));
    const box = { x: cx - w, y: cy - h, width: 2 * w, height: 2 * h };
    return { text, box, inside: nearest > RADIUS.knob * MM };
  }

  write({ text, box }: Label): void {
    this.drawing.text(box.x + box.width / 2, box.y + box.height / 2 + this.labelSize * 0.36, text, { size: this.labelSize, anchor: "middle" });
  }

  private point(place: number, radius: number): string {
    return this.at(place, radius).map(decimal).join(" ");
  }

  /** An arc as path data, in pieces below half a turn. */
  private along({ from, to }: Span, radius: number): string {
    const middle = (from + to) / 2;
    const sweep = to >= from ? 1 : 0;
    const r = decimal(radius * MM);
    return [middle, to].map((place) => `A${r} ${r} 0 0 ${sweep} ${this.point(place, radius)}`).join("");
  }
}

function drawLine(drawing: Drawing, from: [number, number], to: [number, number], stroke: string, width: number): void {
  drawing.path(lines([[...from, ...to]]), { stroke, "stroke-width": width });
}
