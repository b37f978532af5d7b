import type { Wire } from "../../sim/netlist/index.js";
import { INK, PAPER } from "../pictures/colours.js";
import { decimal, lines, type Drawing } from "../pictures/drawing.js";
import { textWidth } from "../pictures/text.js";

/** From pin to pin of a chip, and from house to house, in drawing units. */
export const PITCH = 18;
/** Size of the text on a plan. */
export const SMALL = 11;
/** From the edge of a chip to its first pin. */
export const PAD = 12;
/** A vertical stretch of wire with its number on it. */
export const LEAD = 24;

const NUMBER = { height: 15, least: 17, pad: 5 } as const;
const SIGN = 13;
const TIP = 6;

export type Point = readonly [number, number];
/** Where a wire goes that is not drawn to its end: to a rail, or on at another place with the same number. */
export type Sign = "plus" | "minus" | "flag";

/** Wires by runs of numbers that follow each other: each run is one badge. */
function runs(wires: readonly Wire[]): Wire[][] {
  const found: Wire[][] = [];
  for (const wire of wires.toSorted((a, b) => a.number - b.number)) {
    const last = found.at(-1);
    if (last !== undefined && last.at(-1)!.number + 1 === wire.number) last.push(wire);
    else found.push([wire]);
  }
  return found;
}

/** Width of the badges with the numbers of wires. */
export function badgeWidth(wires: readonly Wire[]): number {
  const all = runs(wires);
  return all.reduce((sum, run) => sum + runWidth(run), BETWEEN * (all.length - 1));
}

const BETWEEN = 3;
const runWidth = (run: readonly Wire[]): number => Math.max(NUMBER.least, textWidth(labelOf(run), SMALL) + NUMBER.pad);

function labelOf(run: readonly Wire[]): string {
  const [first, last] = [run[0]!.number, run.at(-1)!.number];
  return first === last ? String(first) : `${first}-${last}`;
}

/** A wiring plan in the making: the lines of wires below, everything that stands on them above. */
export class Plan {
  #wires = "";
  readonly #above: (() => void)[] = [];

  constructor(readonly drawing: Drawing) {}

  /** A wire along straight lines. */
  wire(...points: readonly Point[]): void {
    this.#wires += points.map(([x, y], i) => `${i === 0 ? "M" : "L"}${decimal(x)} ${decimal(y)}`).join("");
  }

  /** Where wires are joined. */
  joint(x: number, y: number): void {
    this.#above.push(() => this.drawing.add("circle", { cx: x, cy: y, r: 2.4, fill: INK }));
  }

  /** The number of a wire (or of several that start together), centred at a point of it. */
  badge(x: number, y: number, wires: readonly Wire[]): void {
    let left = x - badgeWidth(wires) / 2;
    for (const run of runs(wires)) {
      this.#badge(left + runWidth(run) / 2, y, run);
      left += runWidth(run) + BETWEEN;
    }
  }

  #badge(x: number, y: number, wires: readonly Wire[]): void {
    const width = runWidth(wires);
    this.#above.push(() => {
      this.drawing.add("rect", {
        x: x - width / 2,
        y: y - NUMBER.height / 2,
        width,
        height: NUMBER.height,
        rx: NUMBER.height / 2,
        fill: PAPER,
        stroke: INK,
        "stroke-width": 0.9,
        "data-wires": wires.map(({ number }) => number).join(" "),
      });
      this.drawing.text(x, y + 4, labelOf(wires), { size: SMALL, anchor: "middle" });
    });
  }

  /** White box with a cross: plus; black box with a bar: minus. */
  sign(x: number, y: number, sign: "plus" | "minus"): void {
    const plus = sign === "plus";
    this.#above.push(() => {
      const box = { x: x - SIGN / 2, y: y - SIGN / 2, width: SIGN, height: SIGN, stroke: INK, "stroke-width": 1 };
      this.drawing.add("rect", { ...box, fill: plus ? PAPER : INK });
      const bar: [number, number, number, number] = [x - 4, y, x + 4, y];
      this.drawing.path(lines(plus ? [bar, [x, y - 4, x, y + 4]] : [bar]), { stroke: plus ? INK : PAPER, "stroke-width": 2 });
    });
  }

  /** A wire that leaves sideways from x (`dir` 1: to the right) and ends at a sign. Returns where it ends. */
  stub(x: number, y: number, dir: 1 | -1, wires: readonly Wire[], sign: Sign): number {
    const far = this.through(x, y, dir, wires);
    const end = far + dir * (sign === "flag" ? 0 : 3);
    this.wire([x, y], [end, y]);
    if (sign !== "flag") {
      this.sign(end + (dir * SIGN) / 2, y, sign);
      return end + dir * SIGN;
    }
    this.tip([far, y - 5], [far + dir * TIP, y], [far, y + 5]);
    return far + dir * TIP;
  }

  /**
   * All wires that leave a terminal sideways from x: first those that go on elsewhere, with a flag, then the one to a rail.
   * Returns where that ends.
   */
  ends(x: number, y: number, dir: 1 | -1, wires: readonly Wire[], signOf: (wire: Wire) => Sign): number {
    const flagged = wires.filter((wire) => signOf(wire) === "flag");
    let end = flagged.length === 0 ? x : this.stub(x, y, dir, flagged, "flag");
    for (const wire of wires) {
      const sign = signOf(wire);
      if (sign !== "flag") end = this.stub(end, y, dir, [wire], sign);
    }
    return end;
  }

  /** The number on a wire that leaves sideways from x and goes on. Returns the far side of the number. */
  through(x: number, y: number, dir: 1 | -1, wires: readonly Wire[]): number {
    const width = badgeWidth(wires);
    this.badge(x + dir * (4 + width / 2), y, wires);
    return x + dir * (4 + width);
  }

  /** A wire downwards from y with its number in the middle. Returns the y of its end. */
  down(x: number, y: number, wire: Wire): number {
    this.wire([x, y], [x, y + LEAD]);
    this.badge(x, y + LEAD / 2, [wire]);
    return y + LEAD;
  }

  /** A flag that points upwards; returns the y at which its wire goes on downwards. */
  flagAbove(x: number, y: number, wire: Wire): number {
    const bottom = y + TIP + NUMBER.height;
    this.tip([x - 5, y + TIP], [x, y], [x + 5, y + TIP]);
    this.badge(x, y + TIP + NUMBER.height / 2, [wire]);
    this.wire([x, bottom], [x, bottom + 5]);
    return bottom + 5;
  }

  /** Sign above a wire that goes down from it; returns the y below the sign. */
  signAbove(x: number, y: number): number {
    this.sign(x, y + SIGN / 2, "plus");
    return y + SIGN;
  }

  /** Sign below a wire that ends at y. */
  signBelow(x: number, y: number): void {
    this.sign(x, y + SIGN / 2, "minus");
  }

  /** Draws what was gathered: first the wires, so that numbers and signs stand on them. */
  finish(): void {
    this.drawing.path(this.#wires, { fill: "none", stroke: INK, "stroke-width": 1.1, "data-lines": "wires" });
    for (const draw of this.#above) draw();
  }

  private tip(...points: readonly Point[]): void {
    const d = `M${points.map(([x, y]) => `${decimal(x)} ${decimal(y)}`).join("L")}z`;
    this.#above.push(() => this.drawing.path(d, { fill: INK }));
  }
}
