import { INK, PAPER } from "./colours.js";
import { fitted, isRightToLeft, isUnpredictable, textWidth, wrapped } from "./text.js";

const SVG = "http://www.w3.org/2000/svg";
const XMLNS = "http://www.w3.org/2000/xmlns/";

/** Least size of text in pictures, in pixels at the width they are drawn for. */
export const TEXT_SIZE = 12;
/** Width that pictures are drawn for. */
export const PICTURE_WIDTH = 800;
/** A picture narrower than this has no room beside its marks for all that a wider one says there. */
export const NARROW_BELOW = 560;
/** Height of the title line that `Drawing` puts on top. */
export const TITLE_HEIGHT = 34;
const TITLE_SIZE = 15;
const TITLE_LINE = 20;

export type Attributes = Readonly<Record<string, string | number>>;

export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface TextStyle {
  readonly size?: number;
  readonly anchor?: "start" | "middle" | "end";
  readonly bold?: boolean;
  readonly fill?: string;
  /** Keeps lines behind the text away from it. */
  readonly halo?: boolean;
  /** Width in pixels that the text must not exceed; longer text is shortened. */
  readonly room?: number;
  /** Prose that runs from left to right, even where a line of it begins with a name that does not. */
  readonly prose?: boolean;
  /** The figure that it tells, by its place in figures.json: whoever checks a page finds it by that. */
  readonly figure?: string;
}

export interface DrawingFacts {
  /** Also the beginning of the ids in it: unique among the pictures of one page. */
  readonly id: string;
  readonly width: number;
  readonly height: number;
  /** What is seen, in a few words. */
  readonly title: string;
  /** What is seen, for somebody who does not see it. */
  readonly description: string;
}

/** How a picture stands in its page, where it may stand there twice. */
export interface FittingFacts {
  readonly id: string;
  readonly width: number;
}

/** A picture in the making: an SVG element with title and description, and ways to add marks to it. */
export class Drawing {
  readonly svg: SVGSVGElement;
  readonly width: number;

  constructor(
    private readonly document: Document,
    { id, width, height, title, description }: DrawingFacts,
  ) {
    this.width = width;
    this.svg = document.createElementNS(SVG, "svg");
    this.svg.setAttributeNS(XMLNS, "xmlns", SVG);
    setAll(this.svg, {
      viewBox: `0 0 ${decimal(width)} ${decimal(height)}`,
      width,
      height,
      role: "img",
      "aria-labelledby": `${id}-title ${id}-desc`,
      "font-family": "Arial, 'Liberation Sans', Helvetica, sans-serif",
      "font-size": TEXT_SIZE,
    });
    this.add("title", { id: `${id}-title` }).textContent = title;
    this.add("desc", { id: `${id}-desc` }).textContent = fitted(description, Infinity, TEXT_SIZE);
    this.add("rect", { width: "100%", height: "100%", fill: PAPER });
  }

  /** The title in the top line; in a narrow picture, in the lines that it needs: see `titleHeight`. */
  heading(title: string): void {
    titleLines(title, this.width).forEach((line, i) => this.text(0, 18 + i * TITLE_LINE, line, { size: TITLE_SIZE, bold: true }));
  }

  add(name: string, attributes: Attributes): SVGElement {
    const element = this.document.createElementNS(SVG, name);
    setAll(element, attributes);
    return this.svg.appendChild(element);
  }

  /** One line of text with its baseline at y; "start" and "end" mean left and right whatever the script. */
  text(x: number, y: number, text: string, style: TextStyle = {}): void {
    const { size = TEXT_SIZE, anchor = "start", bold = false, fill = INK, halo = false, room = Infinity, prose = false, figure } = style;
    const shown = fitted(text, room, size, bold);
    const attributes: Record<string, string | number> = { x, y, fill };
    if (size !== TEXT_SIZE) attributes["font-size"] = size;
    if (figure !== undefined) attributes["data-figure"] = figure;
    if (bold) attributes["font-weight"] = "bold";
    if (halo) Object.assign(attributes, { stroke: PAPER, "stroke-width": 4, "stroke-linejoin": "round", "paint-order": "stroke" });
    let side: string = anchor;
    if (!prose && isRightToLeft(shown)) {
      attributes["direction"] = "rtl";
      side = { start: "end", middle: "middle", end: "start" }[anchor];
    }
    if (side !== "start") attributes["text-anchor"] = side;
    if (isUnpredictable(shown)) {
      attributes["textLength"] = Math.min(room, textWidth(shown, size, bold));
      attributes["lengthAdjust"] = "spacingAndGlyphs";
    }
    this.add("text", attributes).textContent = shown;
  }

  /** A path; an empty one is left out. */
  path(d: string, attributes: Attributes): void {
    if (d !== "") this.add("path", { d, ...attributes });
  }
}

/** Height that the title takes in a picture of this width. */
export function titleHeight(title: string, width: number): number {
  return TITLE_HEIGHT + (titleLines(title, width).length - 1) * TITLE_LINE;
}

function titleLines(title: string, width: number): string[] {
  return width < PICTURE_WIDTH ? wrapped(title, width, TITLE_SIZE, true) : [title];
}

/** Any number of bars as the data of one path. */
export function bars(rects: Iterable<Rect>): string {
  let d = "";
  for (const { x, y, width, height } of rects) {
    const w = decimal(width);
    if (w !== 0) d += `M${decimal(x)} ${decimal(y)}h${w}v${decimal(height)}h${-w}z`;
  }
  return d;
}

/** Straight lines as the data of one path: from, to, from, to … */
export function lines(segments: Iterable<readonly [number, number, number, number]>): string {
  let d = "";
  for (const [x1, y1, x2, y2] of segments) d += `M${decimal(x1)} ${decimal(y1)}L${decimal(x2)} ${decimal(y2)}`;
  return d;
}

/** Two decimals are a hundredth of a pixel: enough, and the same bytes everywhere. */
export function decimal(value: number): number {
  return Math.round(value * 100) / 100 + 0;
}

function setAll(element: SVGElement, attributes: Attributes): void {
  for (const [name, value] of Object.entries(attributes)) {
    element.setAttribute(name, typeof value === "number" ? String(decimal(value)) : value);
  }
}
