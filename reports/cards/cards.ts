import type { FaultTable } from "../../sim/faults/index.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { trusted } from "../page/html.js";
import { canvas, svgFile } from "../pictures/canvas.js";
import { faultFindingCard } from "./faultfinding.js";
import { firstPowerSheet } from "./firstpower.js";
import { knobChart } from "./knob.js";
import { cardsPage } from "./page.js";
import { partsCard } from "./parts.js";
import { logSheet } from "./log.js";
import type { CardSheet, MakeCard } from "./sheet.js";
import { wiringCard } from "./wiring.js";

export interface CardsInput {
  readonly scenario: Scenario;
  /** Of the scenario's text. */
  readonly digest: string;
  /** The date to print; null for none. */
  readonly dated: string | null;
  /** What faults look like; null where that would take too long to find out, so that there are no fault-finding cards. */
  readonly faults: FaultTable | null;
  /** Told after each board how many are drawn. */
  readonly progress?: (boards: number) => void;
}

/** A sheet as markup. */
interface Written {
  readonly name: string;
  readonly title: string;
  readonly markup: string;
}

/** The cards of every board, board by board, and the log sheet of the display: file name → content. The same input gives the same bytes. */
export function buildCards({ scenario, digest, dated, faults, progress }: CardsInput): Map<string, string> {
  const paper = canvas();
  const { document } = paper;
  const kinds: readonly MakeCard[] = [wiringCard, partsCard, firstPowerSheet, knobChart, ...(faults === null ? [] : [faultFindingCard(faults)])];
  // written as soon as they are drawn: a drawing takes many times the room of its text
  const written = (sheets: Iterable<CardSheet>): Written[] => Array.from(sheets, ({ name, title, svg }) => ({ name, title, markup: paper.serialize(svg) }));
  const input = { document, scenario, digest, dated };
  const ofBoard = (b: number): Written[] => {
    const cards = kinds.flatMap((make) => written(make(input, b)));
    progress?.(b + 1);
    return cards;
  };
  const drawn = [...scenario.boards.flatMap((_, b) => ofBoard(b)), ...written(logSheet(input))];
  return new Map([
    ["cards.html", cardsPage(scenario.title, drawn.map(({ name, title, markup }) => ({ id: name, title, svg: trusted(markup) })))],
    ...drawn.map(({ name, markup }): [string, string] => [`${name}.svg`, svgFile(markup)]),
  ]);
}
