import { html, trusted, type Html } from "./html.js";
import { policyOf, scripts, type Live } from "./live.js";
import type { Section } from "./section.js";
import { PANELS_STYLE } from "./panels-style.js";
import { STYLE } from "./style.js";

export interface PageFacts {
  readonly title: string;
  /** What made the page, and from what. */
  readonly made: string;
  readonly sections: readonly Section[];
  /** Null: the page has no script. */
  readonly live: Live | null;
}

/** A page that stands alone: style and pictures are in it, and it loads nothing. */
export function page({ title, made, sections, live }: PageFacts): string {
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
<header>
<h1>${title}</h1>
<p class="made">${made}</p>
</header>
${live === null ? html`` : panels()}<nav aria-label="Contents"><ul>
${contents}</ul></nav>
<main${live === null ? html`` : html` data-live="sections"`}>
${parts}</main>
${live === null ? html`` : scripts(live)}</body>
</html>
`.markup;
}

/** Where the panels of the live page go: empty and hidden while no script runs. */
function panels(): Html {
  return html`<div data-live="player" hidden></div>
<div data-live="knobs" hidden></div>
<div data-live="text" hidden></div>
<div data-live="builds" hidden></div>
`;
}
