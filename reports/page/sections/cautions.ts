import { CAUTIONS } from "../cautions.js";
import { html } from "../html.js";
import type { MakeSection } from "../section.js";

/** What to keep in mind when this is built. */
export const cautions: MakeSection = () => ({
  id: "cautions",
  heading: "Cautions",
  body: html`<ul>\n${CAUTIONS.map((caution) => html`<li>${caution}</li>\n`)}</ul>\n`,
});
