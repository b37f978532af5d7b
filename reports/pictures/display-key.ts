import type { Figures } from "../../sim/figures/index.js";
import { houseNames } from "../../sim/model/housename.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { percent } from "../../sim/units/text.js";
import { QUIET } from "./colours.js";
import { Drawing, PICTURE_WIDTH, TEXT_SIZE, titleHeight } from "./drawing.js";
import { DRAWN_LIMIT } from "./groups.js";
import { textWidth } from "./text.js";

const ROW = 18;
/** Rows of one sheet: what a printed page holds. */
const MOST_ROWS = 44;
const NUMBER_WIDTH = 30;
const SHARE_WIDTH = 62;

/** The names that belong to the numbers in the picture of the display, on as many sheets as they need. */
export function drawKeys(document: Document, scenario: Pick<Scenario, "houses">, { houses: found }: Figures, across = PICTURE_WIDTH): SVGSVGElement[] {
  const drawn = houseNames(scenario).slice(0, DRAWN_LIMIT);
  const longest = Math.max(...drawn.map((name) => textWidth(name, TEXT_SIZE)));
  const fitting = Math.floor(across / (NUMBER_WIDTH + longest + SHARE_WIDTH));
  const columns = Math.min(4, Math.max(drawn.length > MOST_ROWS / 2 && across === PICTURE_WIDTH ? 2 : 1, fitting));
  const sheets = Math.ceil(drawn.length / (columns * MOST_ROWS));
  return Array.from({ length: sheets }, (_, sheet) => {
    const first = sheet * columns * MOST_ROWS;
    const members = drawn.slice(first, first + columns * MOST_ROWS);
    const rows = Math.ceil(members.length / columns);
    const title = `The houses by number${sheets === 1 ? "" : `, part ${sheet + 1} of ${sheets}`}`;
    const drawing = new Drawing(document, {
      id: `display-key-${sheet + 1}`,
      width: across,
      height: titleHeight(title, across) + rows * ROW + 4,
      title,
      description: `Names of the houses ${first + 1} to ${first + members.length}, and the share of the open time for which each is lit`,
    });
    drawing.heading(title);
    const width = across / columns;
    members.forEach((name, i) => {
      const left = Math.floor(i / rows) * width;
      const base = titleHeight(title, across) + (i % rows) * ROW + 12;
      drawing.text(left + NUMBER_WIDTH - 6, base, String(first + i + 1), { anchor: "end", bold: true });
      drawing.text(left + NUMBER_WIDTH, base, name, { room: width - NUMBER_WIDTH - SHARE_WIDTH });
      drawing.text(left + width - 14, base, percent(found[first + i]!.litShare), { anchor: "end", fill: QUIET, figure: `houses[${first + i}].litShare` });
    });
    return drawing.svg;
  });
}
