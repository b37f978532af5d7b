import type { Figures } from "../../sim/figures/index.js";
import type { SceneRecord } from "../../sim/engine/record.js";
import type { PromiseResult } from "../../sim/promises/index.js";
import type { Note, Rating } from "../../sim/ratings/index.js";
import type { Scenario } from "../../sim/model/scenario.js";
import type { Spread } from "../../sim/spread/summary.js";
import { PICTURE_WIDTH, type FittingFacts } from "../pictures/drawing.js";
import type { Photo } from "../pictures/photo.js";
import { html, type Html } from "./html.js";
import type { Live } from "./live.js";

/** What a report is made from. */
export interface ReportInput {
  readonly scenario: Scenario;
  /** Simulated with its trace. */
  readonly record: SceneRecord;
  readonly figures: Figures;
  readonly ratings: readonly Rating[];
  readonly notes: readonly Note[];
  readonly promises: readonly PromiseResult[];
  /** Builds drawn from the tolerances; null when none were asked for. */
  readonly spread: Spread | null;
  /** A picture of the display, where the scenario names one. */
  readonly photo: Photo | null;
  readonly version: string;
  /** Number of the opening that the timeline shows, from 1. */
  readonly day: number;
  /** Date to stand on it; null for none. */
  readonly dated: string | null;
  /** Who made it, where that is said. */
  readonly by?: string | undefined;
  /** What makes the page alive; null for a page without script. */
  readonly live: Live | null;
}

/** One part of the page. */
export interface Section {
  /** Anchor in the page. */
  readonly id: string;
  readonly heading: string;
  readonly body: Html;
}

/** Draws one part of the page; null where there is nothing to show. */
export type MakeSection = (input: ReportInput, album: Album) => Section | null;

/** Takes the pictures of a report, and says how each stands in the page. */
export abstract class Album {
  /** Pictures are drawn into it. */
  abstract readonly document: Document;

  /** Pixels that the page has for a picture; one that is drawn for them need not scroll. */
  abstract readonly width: number;

  /** Puts a picture into the page; `name` is that of its file, without ending, and unique. */
  abstract picture(name: string, svg: SVGSVGElement): Html;

  /** A picture across the page, which scrolls by itself where the screen is narrower. */
  wide(name: string, svg: SVGSVGElement): Html {
    return html`<figure class="wide" tabindex="0">${this.picture(name, svg)}</figure>\n`;
  }

  /** A picture that was drawn for `width`; one that is wider all the same scrolls. */
  fitting(name: string, svg: SVGSVGElement): Html {
    return Number(svg.getAttribute("width")) < PICTURE_WIDTH ? html`<figure class="narrow">${this.picture(name, svg)}</figure>\n` : this.wide(name, svg);
  }

  /** A picture of what the page does not work out again: in a page that is written, once for a wide screen and once for a phone. */
  both(name: string, draw: (facts: FittingFacts) => SVGSVGElement): Html {
    return this.fitting(name, draw({ id: name, width: this.width }));
  }

  /** Several sheets of one picture. */
  sheets(name: string, svgs: readonly SVGSVGElement[]): Html[] {
    return svgs.map((svg, i) => this.fitting(svgs.length === 1 ? name : `${name}-${i + 1}`, svg));
  }
}

/** So many columns fit beside each other on a phone. */
const MOST_BESIDE = 2;

export type Column = string | { readonly heading: string; readonly right: true };

/**
 * A table; a column whose heading is marked `right` holds numbers. `figures` names what a row tells by its place in what is
 * printed for programs: whoever checks a page finds it by that.
 */
export function table(columns: readonly Column[], rows: readonly (readonly (string | Html)[])[], figures?: (row: number) => string): Html {
  const side = columns.map((column) => (typeof column === "string" ? "" : "number"));
  const names = columns.map((column) => (typeof column === "string" ? column : column.heading));
  const head = names.map((name, i) => html`<th scope="col" class="${side[i]!}">${name}</th>`);
  // on a phone the cells of a row stand one below the other, each with the name of its column
  const stacked = columns.length > MOST_BESIDE;
  const cellOf = (cell: string | Html, i: number): Html =>
    stacked ? html`<td class="${side[i]!}" data-label="${names[i]!}">${cell}</td>` : html`<td class="${side[i]!}">${cell}</td>`;
  const body = rows.map((row, r) => html`<tr${figures === undefined ? html`` : html` data-figure="${figures(r)}"`}>${row.map(cellOf)}</tr>\n`);
  return html`<div class="scroll" tabindex="0"><table class="${stacked ? "stacked" : ""}">
<thead><tr>${head}</tr></thead>
<tbody>\n${body}</tbody>\n</table></div>\n`;
}

/**
 * What is for the builder more than for a committee. It stands open; on a phone its summary is shown, and where script runs
 * it begins closed there. On paper there is no summary.
 */
export function fold(summary: string, body: Html): Html {
  return html`<details class="fold" open><summary>${summary}</summary>\n${body}</details>\n`;
}

export const right = (heading: string): Column => ({ heading, right: true });
