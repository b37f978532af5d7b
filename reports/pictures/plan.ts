import { houseNames } from "../../sim/model/housename.js";
import type { House, Scenario } from "../../sim/model/scenario.js";
import { NARROW_BELOW, PICTURE_WIDTH, TEXT_SIZE, type Rect } from "./drawing.js";
import { drawnGroups, DRAWN_LIMIT, groupHeading } from "./groups.js";
import { placeLabels } from "./labels.js";
import { ownSpots, type Spot } from "./spots.js";
import { textWidth } from "./text.js";

/** Width and height of a house in the picture of the display; a number of three digits fits in. */
export const HOUSE_SIZE = 26;
const LINE = 15;
/** More houses than this get numbers, not names. */
const NAMED_LIMIT = 60;
/** How much more a narrow picture may be stretched down than across. */
const TALLER = 2.5;
/** Where a row is short, its houses stand so far apart. */
const ROOMY = 130;
/** Longer names do not fit beside a house. */
const LONGEST_NAME = 180;

/** Where each drawn house stands in the picture of the display. The frame begins at (0, 0). */
export interface Plan {
  readonly width: number;
  readonly height: number;
  /** Middle of each house. */
  readonly spots: readonly Spot[];
  /** A name and a second line for each house, placed without overlap; null: houses show their numbers instead. */
  readonly labels: readonly Rect[] | null;
  readonly headings: readonly { readonly text: string; readonly x: number; readonly y: number }[];
}

/**
 * Plans the picture of a display: houses at their own places, those without one in rows below, by zone.
 * `second` is the second line under each name, `width` pixels are there for it.
 */
export function planDisplay({ houses }: Pick<Scenario, "houses">, second: readonly string[], width = PICTURE_WIDTH): Plan {
  const drawn = houses.slice(0, DRAWN_LIMIT);
  const names = houseNames({ houses });
  const widths = drawn.map((_, i) => Math.max(textWidth(names[i]!, TEXT_SIZE), textWidth(second[i]!, TEXT_SIZE)));
  if (drawn.length <= NAMED_LIMIT && widths.every((one) => one <= LONGEST_NAME)) {
    const plan = arrange(drawn, widths, width);
    if (plan !== null) return plan;
  }
  return arrange(drawn, null, width)!;
}

/** One way to arrange the houses, with labels of these widths or with none; null when the labels find no place. */
function arrange(houses: readonly House[], widths: readonly number[] | null, across: number): Plan | null {
  const spots: Spot[] = [];
  const labels: Rect[] = [];
  const headings: { text: string; x: number; y: number }[] = [];
  let height = 0;

  const placed = houses.flatMap(({ at }, house) => (at === null ? [] : [{ at, house }]));
  if (placed.length > 0) {
    const frame = {
      width: across,
      height: 460,
      marginX: widths === null ? 20 : 50,
      marginY: widths === null ? 22 : 52,
      apart: HOUSE_SIZE + 4,
      // on a phone a row of houses would lie in one line
      taller: across < NARROW_BELOW ? TALLER : 1,
    };
    const own = ownSpots(placed.map(({ at }) => at), frame);
    placed.forEach(({ house }, i) => (spots[house] = own.spots[i]!));
    height = own.height;
    if (widths !== null) {
      const tags = placed.map(({ house }) => ({ mark: houseRect(spots[house]!), width: widths[house]!, height: 2 * LINE }));
      const found = placeLabels(tags, { x: 0, y: 0, width: across, height });
      if (found === null) return null;
      placed.forEach(({ house }, i) => (labels[house] = found[i]!));
    }
  }

  const groups = drawnGroups(houses);
  const homeless = Math.max(1, ...groups.map((group) => group.houses.filter((house) => houses[house]!.at === null).length));
  const cell = widths === null ? HOUSE_SIZE + 10 : Math.max(Math.max(HOUSE_SIZE, ...widths) + 12, Math.min(ROOMY, across / homeless));
  const columns = Math.max(1, Math.floor(across / cell));
  const rowHeight = HOUSE_SIZE + (widths === null ? 10 : 2 * LINE + 14);
  for (const group of groups) {
    const members = group.houses.filter((house) => houses[house]!.at === null);
    if (members.length === 0) continue;
    const text = groupHeading(group, groups);
    if (text !== null) {
      headings.push({ text, x: 0, y: height + 18 });
      height += 26;
    }
    members.forEach((house, i) => {
      const spot = {
        x: ((i % columns) + 0.5) * cell,
        y: height + Math.floor(i / columns) * rowHeight + HOUSE_SIZE / 2 + 2,
      };
      spots[house] = spot;
      if (widths === null) return;
      const width = widths[house]!;
      labels[house] = { x: spot.x - width / 2, y: spot.y + HOUSE_SIZE / 2 + 2, width, height: 2 * LINE };
    });
    height += Math.ceil(members.length / columns) * rowHeight + 6;
  }
  return { width: across, height, spots, labels: widths === null ? null : labels, headings };
}

/** The square that a house fills. */
function houseRect({ x, y }: Spot, size = HOUSE_SIZE): Rect {
  return { x: x - size / 2, y: y - size / 2, width: size, height: size };
}
