import { knobScale } from "../../sim/knob/scale.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { Dial, DIAL_MM, drawScale, KNOB_MM } from "../cards/knob-dial.js";
import { TURN } from "../cards/knob-times.js";
import { MM } from "../cards/sheet.js";
import { INK, PAPER, QUIET } from "../pictures/colours.js";
import { Drawing } from "../pictures/drawing.js";

const SIZE = DIAL_MM * MM;
const MIDDLE = SIZE / 2;
const KNOB = (KNOB_MM / 2) * MM;
/** Below the stops the card has words, and the page nothing. */
const HEIGHT = Math.round(SIZE * 0.87);
/** So near to the middle a hand says no direction, in radii of the knob … */
const DEAD = 0.2;
/** … and so near it has hold of the knob. */
const GRASP = 1.4;
/** On the screen the dial is smaller than its card, and its step times are to be read all the same. */
const LABEL = 14;
/** A turn of the wheel by one notch moves the knob by so many grains of its step time. */
const NOTCH = 1;

/** Wheel events nearer to each other than this are one movement, milliseconds. */
const STILL_SCROLLING = 300;

/** When the page was last scrolled by the wheel. */
let scrolledAt = -Infinity;
addEventListener("wheel", ({ timeStamp }) => (scrolledAt = timeStamp), { passive: true });

/** What turning a dial does. */
export interface Turned {
  /** The hand turns the knob to this step time, seconds. */
  readonly to: (seconds: number) => void;
  /** The wheel turns it by so many grains. */
  readonly by: (grains: number) => void;
}

/** A knob with its scale, as on its card: one mark for what is planned, one that turns. */
export class KnobDial {
  readonly svg: SVGSVGElement;
  private readonly planned: SVGElement;
  private readonly knob: SVGElement;
  private readonly scale;
  private place = 0;

  constructor(document: Document, scenario: Scenario, b: number, turned: Turned) {
    const { id } = scenario.boards[b]!;
    const drawing = new Drawing(document, { id: `dial-${b + 1}`, width: SIZE, height: SIZE,
      title: `Knob of ${id}`, description: "The slider beside it says the same." });
    drawing.svg.setAttribute("viewBox", `0 0 ${SIZE} ${HEIGHT}`);
    drawing.svg.setAttribute("height", String(HEIGHT));
    this.svg = drawing.svg;
    this.svg.querySelector("rect")!.remove();
    this.scale = knobScale(scenario, b);
    const dial = new Dial(drawing, MIDDLE, MIDDLE, LABEL);
    if (this.scale.stallsFrom !== null) dial.hatch(this.scale.stallsFrom, 28.8, 33, "crossed");
    drawScale(drawing, dial, this.scale);
    // where both are, the full mark stands in the hollow one
    this.planned = this.group(() => drawing.path(mark(33.8, 12, 22), { fill: PAPER, stroke: INK, "stroke-width": 1.75, "stroke-linejoin": "round" }));
    this.knob = this.group(() => {
      drawing.add("circle", { cx: MIDDLE, cy: MIDDLE, r: KNOB, fill: PAPER, stroke: QUIET, "stroke-width": 1.5 });
      drawing.path(`M${MIDDLE} ${MIDDLE - 3 * MM}V${MIDDLE - KNOB}`, { stroke: INK, "stroke-width": 5, "stroke-linecap": "round" });
      drawing.path(mark(35, 7, 13), { fill: INK });
    });
    this.knob.classList.add("knobmark");
    // the slider is the same control for whoever does not point
    this.svg.setAttribute("aria-hidden", "true");
    this.svg.classList.add("dial");
    this.listen(turned);
  }

  /** Shows a planned and a tried step time, seconds. */
  show(planned: number, tried: number): void {
    this.place = this.scale.dialAt(tried);
    turn(this.planned, this.scale.dialAt(planned));
    turn(this.knob, this.place);
  }

  /** What is drawn meanwhile, as one thing that turns. */
  private group(draw: () => void): SVGElement {
    const before = this.svg.childElementCount;
    draw();
    const group = this.svg.ownerDocument.createElementNS(this.svg.namespaceURI, "g") as SVGElement;
    group.append(...[...this.svg.children].slice(before));
    this.svg.append(group);
    return group;
  }

  private listen({ to, by }: Turned): void {
    let angle: number | null = null;
    let place = 0;
    let start = 0;
    /** From the middle of the knob, whose radius is 1, rightward and upward. */
    const from = ({ clientX, clientY }: PointerEvent | Touch): [number, number] => {
      const { left, top, width } = this.svg.getBoundingClientRect();
      const radius = (width * KNOB) / SIZE;
      return [(clientX - left - width / 2) / radius, (top + (width * MIDDLE) / SIZE - clientY) / radius];
    };
    const angleOf = (event: PointerEvent): number | null => {
      const [x, y] = from(event);
      return Math.hypot(x, y) < DEAD ? null : Math.atan2(x, y);
    };
    // a finger on the knob turns it in any direction; over the scale, a finger that moves down or up scrolls the page
    this.svg.addEventListener("touchstart", (event) => Math.hypot(...from(event.touches[0]!)) < GRASP && event.preventDefault(), { passive: false });
    this.svg.addEventListener("pointerdown", (event) => {
      this.svg.setPointerCapture(event.pointerId);
      angle = angleOf(event);
      start = place = this.place;
    });
    // the finger meant to scroll after all
    this.svg.addEventListener("pointercancel", () => this.place !== start && to(this.scale.stepAt(start)));
    this.svg.addEventListener("pointermove", (event) => {
      if (!this.svg.hasPointerCapture(event.pointerId)) return;
      const [before, next] = [angle, angleOf(event)];
      angle = next;
      if (before === null || next === null) return;
      // the shorter way round
      const moved = Math.atan2(Math.sin(next - before), Math.cos(next - before));
      place = Math.min(this.scale.stallsFrom ?? 1, Math.max(0, place + (moved * 180) / Math.PI / TURN));
      to(Math.min(this.scale.most, this.scale.stepAt(place)));
    });
    this.svg.addEventListener(
      "wheel",
      (event) => {
        // whoever scrolls the page goes on scrolling where a dial comes under the pointer
        if (event.timeStamp - scrolledAt < STILL_SCROLLING) return;
        event.preventDefault();
        event.stopPropagation();
        by((event.deltaY < 0 ? NOTCH : -NOTCH) * (event.shiftKey ? 10 : 1));
      },
      { passive: false },
    );
  }
}

/** A triangle over the middle of the scale whose tip is at a radius in millimetres, pixels wide and high. */
function mark(tip: number, half: number, high: number): string {
  return `M${MIDDLE} ${MIDDLE - tip * MM}l${-half} ${-high}h${2 * half}z`;
}

function turn(group: SVGElement, place: number): void {
  group.setAttribute("transform", `rotate(${((place - 0.5) * TURN).toFixed(2)} ${MIDDLE} ${MIDDLE})`);
}
