import type { Scenario } from "../../sim/model/scenario.js";
import { CAUTIONS } from "../page/cautions.js";
import { INK, QUIET } from "../pictures/colours.js";
import { decimal, Drawing, lines, type Rect } from "../pictures/drawing.js";
import { wrapped } from "../pictures/text.js";

/** Drawing units in a millimetre of paper, so that a unit is the pixel of a page (96 to the inch). */
export const MM = 96 / 25.4;

/** What A4 and Letter paper both print inside margins of 10 mm, in millimetres. */
const PAPER_MM = { width: 190, height: 257 } as const;

const WIDTH = PAPER_MM.width * MM;
const HEIGHT = PAPER_MM.height * MM;
const HEADER = 50;
const CAUTION = { size: 11, line: 13.5, indent: 12 } as const;

const CAUTION_LINES = CAUTIONS.map((text) => wrapped(text, WIDTH - CAUTION.indent, CAUTION.size));
const FOOTER = CAUTION_LINES.flat().length * CAUTION.line + 12;

/** Where the content of a card may go, in drawing units: between title and cautions. */
export const AREA: Rect = { x: 0, y: HEADER, width: WIDTH, height: HEIGHT - HEADER - FOOTER };

/** What cards are made from. */
export interface CardInput {
  readonly document: Document;
  readonly scenario: Scenario;
  /** Short digest of the scenario's text: tells which version of the file a card was printed from. */
  readonly digest: string;
  /** The date to print, as it was given; null for none. */
  readonly dated: string | null;
}

/** One printable page. */
export interface CardSheet {
  /** Of its file, without ending. */
  readonly name: string;
  readonly title: string;
  readonly svg: SVGSVGElement;
}

/** Draws the content of one sheet inside {@link AREA}. */
export type DrawContent = (drawing: Drawing) => void;

/** The cards of one kind for board `b`, each a printable page. */
export type MakeCard = (input: CardInput, b: number) => Iterable<CardSheet>;

export interface CardFacts {
  /** Beginning of the file names and ids, such as `wiring-quay`: unique among all cards. */
  readonly name: string;
  /** Such as `Wiring card: board quay`. */
  readonly heading: string;
  /** What is seen, for somebody who does not see it. */
  readonly description: string;
}

/**
 * Sheets with title, scenario, version, date and cautions round their contents. Each is drawn when it is asked for: a drawing takes
 * many times the room of its text, and of a thousand sheets one has to be there at a time.
 */
export function* cardSheets(input: CardInput, { name, heading, description }: CardFacts, contents: readonly DrawContent[]): Generator<CardSheet> {
  for (const [i, draw] of contents.entries()) {
    const many = contents.length > 1;
    const id = many ? `${name}-${i + 1}` : name;
    const title = many ? `${heading} (sheet ${i + 1} of ${contents.length})` : heading;
    const drawing = new Drawing(input.document, { id, width: WIDTH, height: HEIGHT, title, description });
    drawing.svg.setAttribute("width", `${PAPER_MM.width}mm`);
    drawing.svg.setAttribute("height", `${PAPER_MM.height}mm`);
    drawHeader(drawing, input, title);
    draw(drawing);
    drawCautions(drawing);
    yield { name: id, title, svg: drawing.svg };
  }
}

function drawHeader(drawing: Drawing, { scenario, digest, dated }: CardInput, title: string): void {
  const facts = [`version ${digest}`, ...(dated === null ? [] : [dated])].join(", ");
  drawing.text(0, 18, title, { size: 18, bold: true, room: WIDTH - 220 });
  drawing.text(WIDTH, 18, facts, { anchor: "end", fill: QUIET, room: 210 });
  drawing.text(0, 36, scenario.title, { size: 13, room: WIDTH });
  drawing.path(lines([[0, 43, WIDTH, 43]]), { stroke: INK, "stroke-width": 1.5 });
}

function drawCautions(drawing: Drawing): void {
  let y = HEIGHT - FOOTER + 14;
  drawing.path(lines([[0, y - 14, WIDTH, y - 14]]), { stroke: INK, "stroke-width": 0.75 });
  for (const caution of CAUTION_LINES) {
    drawing.add("circle", { cx: 3, cy: decimal(y - 4), r: 1.5, fill: INK });
    for (const line of caution) {
      drawing.text(CAUTION.indent, y, line, { size: CAUTION.size });
      y += CAUTION.line;
    }
  }
}
