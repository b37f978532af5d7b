import type { Difference } from "../../../sim/compare/index.js";
import { canvas } from "../../pictures/canvas.js";
import { drawOverlay, MOST_CURVES } from "../../pictures/overlay.js";
import { FileAlbum } from "../album.js";
import { counted, openingInWords, sizeInWords } from "../../words.js";
import { html } from "../html.js";
import { page } from "../page.js";
import { right, table, type Album, type Section } from "../section.js";
import { betterCell, figuresMean, intervalCell, meanCell } from "./difference.js";
import { promiseCell, promiseRows, ratingsInWords, type Alternative } from "./alternative.js";

export interface CompareInput {
  readonly alternatives: readonly Alternative[];
  readonly differences: readonly Difference[];
  readonly builds: number;
  readonly version: string;
}

/** The page that shows alternatives side by side: file name → content. The same input gives the same bytes. */
export function buildComparePage(input: CompareInput): Map<string, string> {
  const album = new FileAlbum(canvas());
  const sections = [alternatives(input), figures(input), returns(input, album), promises(input), ratings(input)];
  const made = `Comparison by lampdrift ${input.version}, ${counted(input.builds, "build")} of each, on the same draws`;
  return new Map([["index.html", page({ title: "Alternatives side by side", made, sections, live: null })], ...album.files]);
}

function alternatives({ alternatives: all }: CompareInput): Section {
  return {
    id: "alternatives",
    heading: "The alternatives",
    body: table(
      ["", "title", "file", "size", "opening", right("lamps"), right("parts")],
      all.map(({ letter, scenario, bill }) => [
        letter,
        scenario.title,
        scenario.file,
        sizeInWords(scenario),
        openingInWords(scenario.opening),
        String(bill.lamps),
        String(bill.parts),
      ]),
    ),
  };
}

function figures({ alternatives: all, differences, builds }: CompareInput): Section {
  const [first, ...others] = all.map(({ letter }) => letter);
  const rows = differences.map((difference) => [
    difference.words,
    betterCell(difference),
    ...all.map((_, i) => meanCell(difference, i)),
    ...others.map((_, i) => intervalCell(difference, i + 1)),
  ]);
  return {
    id: "figures",
    heading: "Figures",
    body: html`<p>Parts come out anywhere inside their tolerances; boards of the same name have the same draws. ${figuresMean(builds, first!)}</p>
${table(["figure", "better is", ...all.map(({ letter }) => right(letter)), ...others.map((letter) => right(`${letter} minus ${first!}`))], rows)}`,
  };
}

function returns({ alternatives: all }: CompareInput, album: Album): Section {
  const curves = all.map(({ letter, scenario, drawn }) => ({ name: `${letter}: ${scenario.title}`, points: drawn.curve }));
  const left = all.length - MOST_CURVES;
  return {
    id: "returns",
    heading: "Coming back",
    body: html`${album.wide("overlay", drawOverlay(album.document, curves))}${left > 0
      ? html`<p>The curves of the last ${left} are left out.</p>\n`
      : html``}`,
  };
}

function promises({ alternatives: all }: CompareInput): Section {
  const rows = promiseRows(all).map(({ text, cells }) => [text, ...cells.map(promiseCell)]);
  return {
    id: "promises",
    heading: "Promises",
    body:
      rows.length === 0
        ? html`<p>No promises are made.</p>\n`
        : html`<p>First the nominal build, then how many of the builds drawn keep it.</p>\n${table(["promise", ...all.map(({ letter }) => letter)],
          rows)}`,
  };
}

function ratings({ alternatives: all }: CompareInput): Section {
  const stalls = all.filter(({ drawn }) => drawn.stalled > 0);
  return {
    id: "ratings",
    heading: "Ratings",
    body: html`${table(["", "ratings of the nominal build"],
      all.map(({ letter, ratings: rows }) => [letter, ratingsInWords(rows)]))}${stalls.map(
      ({ letter, drawn }) => html`<p>In ${counted(drawn.stalled, "build")} of ${letter} a timer stalls; their figures are left out.</p>\n`,
    )}`,
  };
}
