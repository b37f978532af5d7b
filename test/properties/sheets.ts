/** What is wrong with a sheet as it is drawn, found without a browser. */
import { textWidth } from "../../reports/pictures/text.js";

interface Box {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Capitals reach so far above the baseline, and tails below it, as shares of the size. */
const ABOVE = 0.72;
const BELOW = 0.22;

function boxOf(element: Element, size: number): Box {
  const number = (name: string): number => Number(element.getAttribute(name));
  const text = element.textContent;
  const width = element.hasAttribute("textLength") ? number("textLength") : textWidth(text, size, element.getAttribute("font-weight") === "bold");
  const rightToLeft = element.getAttribute("direction") === "rtl";
  const anchor = element.getAttribute("text-anchor") ?? "start";
  const share = anchor === "middle" ? 0.5 : (anchor === "end") === rightToLeft ? 0 : 1;
  const left = number("x") - share * width;
  return { text, left, right: left + width, top: number("y") - ABOVE * size, bottom: number("y") + BELOW * size };
}

/** Texts that overlap, leave the sheet or are too small, and lines that leave it. */
export function sheetFaults(svg: SVGSVGElement, least = 11): string[] {
  const [, , width, height] = svg.getAttribute("viewBox")!.split(" ").map(Number) as [number, number, number, number];
  const faults: string[] = [];
  const boxes = [...svg.querySelectorAll("text")].map((element) => {
    const size = Number(element.getAttribute("font-size") ?? svg.getAttribute("font-size"));
    if (size < least) faults.push(`"${element.textContent}" is ${size} high`);
    return boxOf(element, size);
  });
  boxes.forEach((box, i) => {
    if (!(box.left >= -0.5 && box.right <= width + 0.5 && box.top >= 0 && box.bottom <= height)) faults.push(`"${box.text}" leaves the sheet`);
    for (const other of boxes.slice(i + 1)) {
      const across = Math.min(box.right, other.right) - Math.max(box.left, other.left);
      const down = Math.min(box.bottom, other.bottom) - Math.max(box.top, other.top);
      if (across > 0.5 && down > 0.5) faults.push(`"${box.text}" over "${other.text}"`);
    }
  });
  for (const line of svg.querySelectorAll("path[data-lines]")) {
    for (const [, x, y] of line.getAttribute("d")!.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)) {
      if (!(Number(x) >= 0 && Number(x) <= width && Number(y) >= 0 && Number(y) <= height)) faults.push(`a line to ${x}, ${y} leaves the sheet`);
    }
  }
  const markup = svg.outerHTML;
  if (/NaN|Infinity|undefined/.test(markup)) faults.push("a figure is no number");
  return faults;
}
