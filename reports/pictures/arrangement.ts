import { houseNames } from "../../sim/model/housename.js";
import type { House, Scenario } from "../../sim/model/scenario.js";
import { BAR, INK, LIT, PAPER, QUIET } from "./colours.js";
import { Drawing, lines, TITLE_HEIGHT, type Rect } from "./drawing.js";
import { houseOutlines } from "./house.js";
import { HOUSE_SIZE, planDisplay } from "./plan.js";

const TITLE = "Which house hangs on which output";
const HEADING = 30;

/** Two arrangements of one display, one above the other: a line from each board to every house it lights, and the outputs by number. */
export function drawArrangements(document: Document, panels: readonly { readonly heading: string; readonly scenario: Scenario }[]): SVGSVGElement {
  const planned = panels.map(({ heading, scenario }) => ({ heading, scenario, ...planOf(scenario) }));
  const width = Math.max(...planned.map(({ plan }) => plan.width));
  const height = TITLE_HEIGHT + planned.reduce((sum, { plan }) => sum + HEADING + plan.height + 16, 0);
  const drawing = new Drawing(document, {
    id: "arrangement",
    width,
    height,
    title: TITLE,
    description: panels.map(({ heading, scenario }) => `${heading}: ${inWords(scenario)}`).join(" "),
  });
  drawing.heading(TITLE);
  let top = TITLE_HEIGHT;
  for (const { heading, scenario, marks, seconds, plan } of planned) {
    drawing.text(0, top + 18, heading, { bold: true });
    top += HEADING;
    const spots = plan.spots.map(({ x, y }) => ({ x, y: y + top }));
    const { houses, boards } = scenario;
    const boardSpot = (board: number): number => marks.findIndex((mark) => mark.board === board);
    const wires = boards.flatMap((_, board) => {
      const from = spots[boardSpot(board)];
      return from === undefined ? [] : litBy(scenario, board).flatMap((house) => (spots[house] === undefined ? [] : [[from.x, from.y, spots[house].x, spots[house].y] as const]));
    });
    drawing.path(lines(wires), { stroke: BAR, "stroke-opacity": 0.55, fill: "none" });
    const outline = { stroke: INK, "stroke-width": 1.5, "stroke-linejoin": "round" };
    drawing.path(houseOutlines(spots.slice(0, houses.length), HOUSE_SIZE), { fill: LIT, ...outline });
    spots.slice(houses.length).forEach(({ x, y }) => {
      drawing.add("rect", { x: x - 11, y: y - 8, width: 22, height: 16, rx: 2, fill: PAPER, stroke: BAR, "stroke-width": 2 });
    });
    for (const { text, x, y } of plan.headings) drawing.text(x, y + top, text, { bold: true });
    const names = houseNames({ houses: marks });
    marks.forEach((_, i) => {
      const spot = spots[i];
      if (spot === undefined) return;
      const label: Rect | undefined = plan.labels?.[i];
      if (label === undefined) {
        drawing.text(spot.x, spot.y + 5, String(i + 1), { anchor: "middle" });
        return;
      }
      const middle = label.x + label.width / 2;
      drawing.text(middle, label.y + top + 12, names[i]!, { anchor: "middle", room: label.width, halo: true });
      drawing.text(middle, label.y + top + 26, seconds[i]!, { anchor: "middle", fill: QUIET, halo: true, room: label.width });
    });
    top += plan.height + 16;
  }
  return drawing.svg;
}

type Mark = House & { readonly board?: number };

/** Houses first, then the boards that have a place; under each what it is switched by, or what it is. */
function planOf(scenario: Scenario): { marks: readonly Mark[]; seconds: readonly string[]; plan: ReturnType<typeof planDisplay> } {
  const { houses, boards } = scenario;
  const placed = boards.flatMap(({ id, at }, board): Mark[] => (at === null ? [] : [{ id, name: id, zone: null, at, wired: "together", board }]));
  const marks = [...houses, ...placed];
  const seconds = [...houses.map((_, house) => switchedBy(scenario, house)), ...placed.map(() => "board")];
  return { marks, seconds, plan: planDisplay({ houses: marks }, seconds) };
}

/** The outputs that light a house, such as "quay 0, 3". */
export function switchedBy({ boards }: Scenario, house: number): string {
  const outputs = boards.flatMap(({ id, outputs: all }) => {
    const own = all.flatMap((loads, output) => (loads.some((load) => load.house === house) ? [output] : []));
    return own.length === 0 ? [] : [`${id} ${own.join(", ")}`];
  });
  return outputs.length === 0 ? "on no output" : outputs.join("; ");
}

function litBy({ boards }: Scenario, board: number): number[] {
  return [...new Set(boards[board]!.outputs.flatMap((loads) => loads.map(({ house }) => house)))];
}

function inWords(scenario: Scenario): string {
  return `${houseNames(scenario)
    .map((name, house) => `${name}: ${switchedBy(scenario, house)}`)
    .join("; ")}.`;
}
