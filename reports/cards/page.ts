import { html, trusted, type Html } from "../page/html.js";
import { GUIDE, INK, PAPER } from "../pictures/colours.js";

/** Sheets as they lie on a screen, and one to a printed page; the paper is what the printer has, A4 or Letter. */
const STYLE = `
:root { color-scheme: light; }
body { margin: 0 auto; padding: 1.5rem 1rem 4rem; max-width: 60rem; color: ${INK}; background: ${PAPER};
  font: 16px/1.5 Arial, "Liberation Sans", Helvetica, sans-serif; overflow-wrap: anywhere; }
h1 { font-size: 1.75rem; line-height: 1.2; margin: 0 0 .5rem; }
nav ul { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: .25rem 1rem; }
a { color: #005a8c; }
.card { margin: 2rem 0 0; padding: 10mm; width: fit-content; border: 1px solid ${GUIDE}; overflow-x: auto; max-width: 100%; box-sizing: border-box; }
.card svg { display: block; }
@page { margin: 10mm; }
@media print {
  body { margin: 0; padding: 0; max-width: none; }
  header, nav { display: none; }
  .card { margin: 0; padding: 0; border: 0; overflow: visible; max-width: none; break-after: page; break-inside: avoid; }
  .card:last-child { break-after: auto; }
}
`;

/** A card in the page: its anchor, what it is called in the list of contents, and the drawing. */
export interface PageCard {
  readonly id: string;
  readonly title: string;
  readonly svg: Html;
}

/** All cards of a display in one page that stands alone and prints each card true to scale. */
export function cardsPage(title: string, cards: readonly PageCard[]): string {
  return html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Cards: ${title}</title>
<style>${trusted(STYLE)}</style>
</head>
<body>
<header>
<h1>Cards: ${title}</h1>
<p>Print this page on A4 or Letter paper at 100 %, and check the ruler lines. Each card says which version of the scenario it belongs to.</p>
</header>
<nav aria-label="Contents"><ul>
${cards.map(({ id, title }) => html`<li><a href="#${id}-card">${title}</a></li>\n`)}</ul></nav>
<main>
${cards.map(({ id, svg }) => html`<div class="card" id="${id}-card" tabindex="0">${svg}</div>\n`)}</main>
</body>
</html>
`.markup;
}
