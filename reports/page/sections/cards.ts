import { html } from "../html.js";
import type { MakeSection } from "../section.js";

/** Where the cards are that stay with the display. */
export const cards: MakeSection = ({ scenario }) => ({
  id: "cards",
  heading: "Cards that stay with the display",
  body: html`<p>For each board there is a wiring card, a knob chart where it has a knob, and a fault-finding card, to be printed from
<a href="cards.html">cards.html</a>, which <code>lampdrift cards ${scenario.file}</code> writes into the directory of this page.</p>\n`,
});
