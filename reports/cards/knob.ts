import { knobFigures, type KnobFigures, type Span } from "../../sim/knob/index.js";
import { duration } from "../../sim/units/quantities.js";
import { spokenDuration } from "../../sim/units/text.js";
import { INK } from "../pictures/colours.js";
import type { Drawing, Rect } from "../pictures/drawing.js";
import { BAND, bandSpans, DIAL_MM, drawDial } from "./knob-dial.js";
import { flow, swatch, type Paragraph, type Placed } from "./knob-flow.js";
import { drawRuler, RULER_HEIGHT } from "./knob-ruler.js";
import { drawTable, tableHeight } from "./knob-table.js";
import { spanText, travelText, turnText } from "./knob-times.js";
import { assumptions, instructions, warnings } from "./knob-words.js";
import { AREA, cardSheets, MM, type DrawContent, type MakeCard } from "./sheet.js";

const DIAL = DIAL_MM * MM;
const GAP = 18;

/**
 * The knob chart of board `b`: a dial to cut out, a table, and how to set the knob with a stopwatch. No sheet for a board
 * without a knob.
 */
export const knobChart: MakeCard = (input, b) => {
  const figures = knobFigures(input.scenario, b);
  if (figures === null) return [];
  const { set } = figures;
  const rulerTop = AREA.y + DIAL + 12;
  const tableTop = rulerTop + RULER_HEIGHT + 4;
  const below = tableTop + tableHeight(figures) + 6;
  const beside: Rect = { x: DIAL + GAP, y: AREA.y + 4, width: AREA.width - DIAL - GAP, height: DIAL + 4 };
  const under: Rect = { x: 0, y: below, width: AREA.width, height: AREA.y + AREA.height - below };
  const { scenario } = input;
  const text = [...key(figures), ...instructions(scenario, b, figures), ...warnings(figures), ...assumptions(scenario, figures)];
  const placed = flow(text, [beside, under], AREA);
  const first: DrawContent = (drawing) => {
    drawDial(drawing, 1 + DIAL / 2, AREA.y + DIAL / 2, figures);
    drawRuler(drawing, 1, rulerTop, AREA.width - 1);
    drawTable(drawing, tableTop, AREA.width, figures);
    drawPlaced(drawing, placed, [0, 1]);
  };
  const last = Math.max(1, ...placed.map(({ region }) => region));
  const rest = Array.from({ length: last - 1 }, (_, i): DrawContent => (drawing) => drawPlaced(drawing, placed, [i + 2]));
  return cardSheets(
    input,
    {
      name: `knob-${figures.id}`,
      heading: `Knob chart: board ${figures.id}`,
      description:
        `A dial with step times from ${spanText({ from: figures.scale.least, to: figures.scale.most })} round it, the set mark at ` +
        `${spokenDuration(set.seconds)}, ${travelText(set.dial)} of the travel; a table of step times, and how to set the knob.`,
    },
    [first, ...rest],
  );
};

function drawPlaced(drawing: Drawing, placed: readonly Placed[], regions: readonly number[]): void {
  for (const one of placed) if (regions.includes(one.region)) one.draw(drawing);
}

/** What is what on the dial. */
function key(figures: KnobFigures): Paragraph[] {
  const { set, setBand, stayBand, trimmer } = figures;
  const exact = trimmer.setting.kind === "step" ? duration.format(trimmer.setting.step) : spokenDuration(set.seconds);
  const { all, usual } = bandSpans(figures);
  const places = ({ from, to }: Span): string => `end at ${travelText(from)} to ${travelText(to)} of travel`;
  const triangle = (drawing: Drawing, x: number, y: number): void => {
    drawing.path(`M${x + 7} ${y + 12}L${x + 1} ${y + 1}H${x + 13}z`, { fill: INK });
  };
  const items: Paragraph[] = [{ text: `set mark, ${exact}: ${travelText(set.dial)} of travel (${turnText(set.dial)})`, lead: triangle }];
  if (all.to - all.from <= 1e-9) return items;
  const often = setBand === null ? stayBand!.usual && `have steps of ${spanText(stayBand!.usual)}` : usual && places(usual);
  const always = setBand === null ? `have steps of ${spanText(stayBand!.all)}` : places(all);
  const clocking = stayBand !== null && stayBand.stalled > 0 ? " that clock" : "";
  if (often !== null) items.push({ text: `nine of ten boards${clocking} ${often}`, lead: swatch(BAND.usual) });
  return [...items, { text: `all boards ${always}`, lead: swatch(BAND.all) }];
}
