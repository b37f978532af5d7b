import { html, trusted } from "./html.js";
import type { Section } from "./section.js";
import { STYLE } from "./style.js";

export interface PageFacts {
  readonly title: string;
  /** What made the page, and from what. */
  readonly made: string;
  readonly sections: readonly Section[];
}

/** A page that stands alone: style and pictures are in it, and it loads nothing. */
export function page({ title, made, sections }: PageFacts): string {
  const contents = sections.map(({ id, heading }) => html`<li><a href="#${id}">${heading}</a></li>\n`);
  const parts = sections.map(({ id, heading, body }) => html`<section id="${id}">\n<h2>${heading}</h2>\n${body}</section>\n`);
  return html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<style>${trusted(STYLE)}</style>
</head>
<body>
<header>
<h1>${title}</h1>
<p class="made">${made}</p>
</header>
<nav aria-label="Contents"><ul>
${contents}</ul></nav>
<main>
${parts}</main>
</body>
</html>
`.markup;
}
