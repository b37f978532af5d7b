import type { LeadSentence } from "../verdicts.js";
import { html, trusted, type Html } from "./html.js";
import { PHOTO_ID, type Photo } from "../pictures/photo.js";
import { policyOf, scripts, type Live } from "./live.js";
import { fold, type Section } from "./section.js";
import { PANELS_STYLE } from "./panels-style.js";
import { STYLE } from "./style.js";

export interface PageFacts {
  readonly title: string;
  /** What made the page, and from what. */
  readonly made: string;
  /** What the page begins with. */
  readonly verdicts?: readonly LeadSentence[];
  readonly sections: readonly Section[];
  /** The picture of the display that is shown in it. */
  readonly photo?: Photo | null;
  /** Null: the page has no script. */
  readonly live: Live | null;
}

/** A page that stands alone: style and pictures are in it, and it loads nothing. */
export function page({ title, made, verdicts = [], sections, photo = null, live }: PageFacts): string {
  const contents = sections.map(({ id, heading }) => html`<li><a href="#${id}">${heading}</a></li>\n`);
  const parts = sections.map(({ id, heading, body }) => html`<section id="${id}">\n<h2>${heading}</h2>\n${body}</section>\n`);
  return html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
${policyOf(live)}
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<style>${trusted(STYLE)}${live === null ? html`` : trusted(PANELS_STYLE)}</style>
</head>
<body>
${photo === null ? html`` : photoInPage(photo)}<header class="night"><div class="frame">
<div class="title"><h1>${title}</h1>
<p class="made">${made}</p></div>
${live === null ? html`` : html`<section class="player" aria-label="Player" data-live="player" hidden></section>\n`}${
    verdicts.length === 0 ? html`` : first(verdicts)
  }</div></header>
<nav aria-label="Contents">
${fold("Contents", html`<ul>\n${live === null ? html`` : PANEL_LINKS}${contents}</ul>\n`)}</nav>
${live === null ? html`` : PANELS}<main${live === null ? html`` : html` data-live="sections"`}>
${parts}</main>
${live === null ? html`` : scripts(live)}</body>
</html>
`.markup;
}

/** The photo, once; an image runs no script, whatever is in its file. */
export function photoInPage({ width, height, address }: Photo): Html {
  return html`<svg class="unseen" aria-hidden="true" width="1" height="1"><defs>
<image id="${PHOTO_ID}" width="${width}" height="${height}" href="${trusted(address)}"/></defs></svg>\n`;
}

/** The sentences that a committee asks for first. */
function first(verdicts: readonly LeadSentence[]): Html {
  const items = verdicts.map(({ section, tone, sentence }) => html`<li class="${tone}"><a href="#${section}">${sentence}</a></li>\n`);
  return html`<section class="verdicts" aria-label="Verdicts" data-live="verdicts">\n<ol>\n${items}</ol>\n</section>\n`;
}

/** Places that only a page has that runs. */
const PANEL_LINKS = html`<li class="try" hidden><a href="#knobs">Turn the knobs</a></li>
<li class="try" hidden><a href="#text">The scenario text</a></li>
<li class="try" hidden><a href="#builds">Draw 200 builds</a></li>
`;

/** Where the panels of the live page go: empty and hidden while no script runs. */
const PANELS = html`<div class="panels">
<section class="panel" aria-label="Knobs" data-live="knobs" hidden></section>
<section class="panel" aria-label="Scenario text" data-live="text" hidden></section>
<section class="panel" aria-label="Builds" data-live="builds" hidden></section>
</div>
`;
