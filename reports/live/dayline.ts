import { houseName } from "../../sim/model/housename.js";
import { bars } from "../pictures/drawing.js";
import type { SceneRecord } from "../../sim/engine/record.js";
import { percent } from "../../sim/units/text.js";
import { counted } from "../words.js";
import { element } from "./dom.js";
import { changesPerPart, lightOf } from "./moments.js";

const SVG = "http://www.w3.org/2000/svg";
const PARTS = 120;

/** The course of an opening behind the slider: how often the picture changes, and when one house is lit. */
export class DayLine {
  private readonly changes = shape("changes");
  private readonly light = shape("light");
  readonly strip = element("div", { class: "strip", "aria-hidden": "true" });
  readonly words = element("p", { class: "light-words", hidden: "" });

  constructor() {
    const svg = document.createElementNS(SVG, "svg");
    svg.setAttribute("viewBox", "0 0 1000 40");
    svg.setAttribute("preserveAspectRatio", "none");
    svg.append(this.changes, this.light);
    this.strip.append(svg);
  }

  showChanges(record: SceneRecord, opening: number): void {
    const counts = changesPerPart(record, opening, PARTS);
    const most = Math.max(1, ...counts);
    const wide = 1000 / PARTS;
    this.changes.setAttribute(
      "d",
      bars(counts.map((count, i) => ({ x: i * wide, y: 40 - (30 * count) / most, width: wide - 1.5, height: (30 * count) / most }))),
    );
  }

  /** The light of one house over the opening; −1: of none. */
  showLight(record: SceneRecord, opening: number, house: number): void {
    this.words.hidden = house < 0;
    if (house < 0) {
      this.light.setAttribute("d", "");
      return;
    }
    const stretches = lightOf(record, opening, house);
    this.light.setAttribute("d", bars(stretches.map(({ from, until }) => ({ x: from * 1000, y: 0, width: Math.max(0.6, (until - from) * 1000), height: 7 }))));
    const share = stretches.reduce((sum, { from, until }) => sum + until - from, 0);
    const name = houseName(record.scenario, house);
    this.words.textContent = (`${name} is lit for ${percent(share)} of this opening, in ` +
      `${counted(stretches.length, "stretch", "stretches")}: the bright line above the slider.`);
  }
}

function shape(name: string): SVGPathElement {
  const path = document.createElementNS(SVG, "path");
  path.setAttribute("class", name);
  return path;
}
