import type { Rect } from "./drawing.js";

/** Lines of text that belong to a mark, and the mark itself. */
export interface Tag {
  readonly mark: Rect;
  readonly width: number;
  readonly height: number;
}

const GAP = 3;
/** How often a label may push others out of their place, per label. */
const PATIENCE = 30;

/**
 * Places for labels beside their marks so that none covers a mark or another label or leaves the frame; null when no
 * such arrangement is found. A label without a free place takes the one where it pushes out the fewest others, which
 * then look again; places that are fought over grow dear.
 */
export function placeLabels(tags: readonly Tag[], frame: Rect): Rect[] | null {
  const marks = tags.map(({ mark }) => mark);
  const choices = tags.map((tag) =>
    candidates(tag).filter((rect) => isInside(rect, frame) && !marks.some((mark) => meet(rect, mark, 1))),
  );
  if (choices.some((rects) => rects.length === 0)) return null;
  const placed: (Rect | undefined)[] = tags.map(() => undefined);
  const price = tags.map(() => 1);
  const waiting = tags.map((_, i) => i);
  for (let patience = tags.length * PATIENCE; waiting.length > 0; patience--) {
    if (patience === 0) return null;
    const label = waiting.shift()!;
    const inTheWay = (rect: Rect): number[] =>
      placed.flatMap((other, i) => (i !== label && other !== undefined && meet(rect, other, GAP) ? [i] : []));
    const costs = choices[label]!.map((rect) => inTheWay(rect).reduce((sum, i) => sum + price[i]!, 0));
    const best = choices[label]![costs.indexOf(Math.min(...costs))]!;
    for (const i of inTheWay(best)) {
      placed[i] = undefined;
      price[i] = price[i]! + 1;
      waiting.push(i);
    }
    placed[label] = best;
  }
  return placed as Rect[];
}

/** Around the mark, the best first: below, above, at the sides, and askew. */
function candidates({ mark, width, height }: Tag): Rect[] {
  const middle = mark.x + mark.width / 2 - width / 2;
  const level = mark.y + mark.height / 2 - height / 2;
  const below = mark.y + mark.height + 2;
  const above = mark.y - height - 2;
  const right = mark.x + mark.width + GAP;
  const left = mark.x - width - GAP;
  const shift = width / 4;
  const corners: [number, number][] = [
    [middle, below], [middle, above], [right, level], [left, level],
    [middle + shift, below], [middle - shift, below], [middle + shift, above], [middle - shift, above],
    [mark.x, below], [mark.x + mark.width - width, below], [mark.x, above], [mark.x + mark.width - width, above],
  ];
  return corners.map(([x, y]) => ({ x, y, width, height }));
}

/** True when two rectangles overlap, or come nearer to each other than the gap. */
export function meet(a: Rect, b: Rect, gap: number): boolean {
  return a.x < b.x + b.width + gap && b.x < a.x + a.width + gap && a.y < b.y + b.height + gap && b.y < a.y + a.height + gap;
}

function isInside(inner: Rect, outer: Rect): boolean {
  return (
    inner.x >= outer.x &&
    inner.y >= outer.y &&
    inner.x + inner.width <= outer.x + outer.width &&
    inner.y + inner.height <= outer.y + outer.height
  );
}
