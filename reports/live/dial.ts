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
    this.svg = drawing.svg;
    this.svg.querySelector("rect")!.remove();
    drawing.add("circle", { cx: MIDDLE, cy: MIDDLE, r: MIDDLE - 1, fill: PAPER });
    this.scale = knobScale(scenario, b);
    const dial = new Dial(drawing, MIDDLE, MIDDLE, LABEL);
    if (this.scale.stallsFrom !== null) dial.hatch(this.scale.stallsFrom, 28.8, 33, "crossed");
    drawScale(drawing, dial, this.scale);
    this.planned = this.group(() => drawing.path(`M${MIDDLE} ${MIDDLE - 35 * MM}l-7 -13h14z`, { fill: PAPER, stroke: INK, "stroke-width": 1.5 }));
    this.knob = this.group(() => {
      drawing.add("circle", { cx: MIDDLE, cy: MIDDLE, r: KNOB, fill: PAPER, stroke: QUIET, "stroke-width": 1.5 });
      drawing.path(`M${MIDDLE} ${MIDDLE - 3 * MM}V${MIDDLE - KNOB}`, { stroke: INK, "stroke-width": 4 });
      dial.pointer(0.5);
    });
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
    let angle = 0;
    let place = 0;
    const angleOf = ({ clientX, clientY }: PointerEvent): number => {
      const { left, top, width, height } = this.svg.getBoundingClientRect();
      return Math.atan2(clientX - left - width / 2, top + height / 2 - clientY);
    };
    this.svg.addEventListener("pointerdown", (event) => {
      this.svg.setPointerCapture(event.pointerId);
      angle = angleOf(event);
      place = this.place;
    });
    this.svg.addEventListener("pointermove", (event) => {
      if (!this.svg.hasPointerCapture(event.pointerId)) return;
      const next = angleOf(event);
      // the shorter way round
      const moved = Math.atan2(Math.sin(next - angle), Math.cos(next - angle));
      angle = next;
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

function turn(group: SVGElement, place: number): void {
  group.setAttribute("transform", `rotate(${((place - 0.5) * TURN).toFixed(2)} ${MIDDLE} ${MIDDLE})`);
}
