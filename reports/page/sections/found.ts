import { fiveSentences } from "../../sentences.js";
import { openingInWords, sizeInWords } from "../../words.js";
import { html } from "../html.js";
import type { MakeSection } from "../section.js";

/** What was found, in five plain sentences. */
export const found: MakeSection = ({ scenario, figures }) => ({
  id: "found",
  heading: "What was found",
  body: html`<p class="size">${sizeInWords(scenario)}. ${openingInWords(scenario.opening)}.</p>
<ol class="found">
${fiveSentences(figures, scenario).map((sentence) => html`<li>${sentence}</li>\n`)}</ol>
`,
});
