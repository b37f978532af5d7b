import { basename } from "node:path";
import { knobOf } from "../../sim/knob/settings.js";
import { listed, percent, spokenDuration, upTo } from "../../sim/units/text.js";
import { INK, PAPER, QUIET } from "../pictures/colours.js";
import { canvas } from "../pictures/canvas.js";
import { drawDisplay } from "../pictures/display.js";
import { PICTURE_WIDTH } from "../pictures/drawing.js";
import { planDisplay } from "../pictures/plan.js";
import { verdictsOf } from "../verdicts.js";
import { counted, openingInWords, sizeInWords } from "../words.js";
import { html, trusted } from "./html.js";
import { photoInPage } from "./page.js";
import type { ReportInput } from "./section.js";

/** One side of A4 or Letter, whatever the scenario: the picture takes what the words leave. */
const STYLE = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 10mm; width: 210mm; color: ${INK}; background: ${PAPER}; overflow-wrap: anywhere;
  font: 11pt/1.4 "Segoe UI", "Helvetica Neue", Arial, "Liberation Sans", sans-serif; }
.side { width: 100%; height: 257mm; display: flex; flex-direction: column; overflow: hidden; }
h1 { font-size: 20pt; line-height: 1.15; margin: 0; max-height: 2.3em; overflow: hidden; }
h2 { font-size: 13pt; margin: 4mm 0 1mm; }
p { margin: 1mm 0; }
.quiet { color: ${QUIET}; font-size: 9.5pt; }
ol, ul { margin: 0; padding-left: 6mm; }
li { margin: 0 0 1mm; }
.bad { font-weight: bold; }
.picture { flex: 1 1 0; min-height: 40mm; margin: 3mm 0 0; }
.picture svg { display: block; width: 100%; height: 100%; }
.unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; }
.signed { display: flex; gap: 8mm; margin: 7mm 0 0; }
.signed span { flex: 1; border-top: 1px solid ${INK}; padding-top: 1mm; font-size: 9.5pt; }
@page { margin: 10mm; }
@media print { body { padding: 0; width: auto; } }
`;

/** Promises and boards that one page spells out. */
const TOLD = 6;

/** The committee's one page to print: the display, what was found, and what is asked. The same input gives the same bytes. */
export function summaryPage(input: ReportInput): string {
  const { scenario, figures, photo, dated, by } = input;
  const paper = canvas();
  const plan = planDisplay(scenario, figures.houses.map(({ litShare }) => percent(litShare)), PICTURE_WIDTH);
  const picture = drawDisplay(paper.document, scenario, figures, plan);
  const made = [...[by ?? [], dated ?? []].flat(), `computed by lampdrift ${input.version} from ${basename(scenario.file)}`];
  return html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Summary: ${scenario.title}</title>
<style>${trusted(STYLE)}</style>
</head>
<body>
${photo === null ? html`` : photoInPage(photo)}<div class="side">
<header>
<h1>${scenario.title}</h1>
<p>${sizeInWords(scenario)}. ${openingInWords(scenario.opening)}.</p>
<p class="quiet">${made.join(", ")}</p>
</header>
<div class="picture">${trusted(paper.serialize(picture))}</div>
<h2>What was found</h2>
<ol>
${verdictsOf(input).map(({ tone, sentence }) => html`<li class="${tone}">${sentence}</li>\n`)}</ol>
<h2>What is asked of the committee</h2>
<ul>
${askedOf(input).map((sentence) => html`<li>${sentence}</li>\n`)}</ul>
<p class="quiet">Computed for parts as their markings say; the report tells how far real ones may be off. Local codes and the rules of the
house decide, and anything on the mains side is work for a licensed electrician.</p>
<div class="signed"><span>agreed on</span><span>for the committee</span><span>looks after the display</span></div>
</div>
</body>
</html>
`.markup;
}

/** What a committee has to decide before such a display is built and handed over. */
function askedOf(input: ReportInput): string[] {
  const { scenario, promises, ratings } = input;
  const over = ratings.filter(({ verdict }) => verdict === "over");
  const broken = promises.filter(({ kept }) => !kept);
  return [
    ...(over.length === 0
      ? []
      : [`Not to have it built before ${counted(over.length, "rating")} that ${over.length === 1 ? "is" : "are"} exceeded ` +
          `${over.length === 1 ? "is" : "are"} mended: ${shortened([...new Set(over.map(({ what, where }) => `${what} of ${where}`))])}.`]),
    ...(broken.length === 0
      ? []
      : [`To say whether it may be so all the same, or what should give way: ${shortened(broken.map(({ text }) => `“${text}”`))}.`]),
    promises.length === 0
      ? "To say what visitors should be promised, such as how long a picture lasts and how seldom it comes back."
      : broken.length === promises.length ? "To say whether these are the right promises to visitors."
        : `To agree to what is promised: ${shortened(promises.filter(({ kept }) => kept).map(({ text }) => text))}.`,
    `To agree to the opening hours, ${openingInWords(scenario.opening).replace(/^[^,]*, /, "")}${settings(input)}.`,
    "To name who looks after the display, switches it on and off, and keeps its cards.",
  ];
}

/** The step times to which the knobs are set. */
function settings({ scenario, figures }: ReportInput): string {
  const set = figures.boards.flatMap(({ id, stepSeconds }, b) => (knobOf(scenario, b) === null ? [] : [`${spokenDuration(stepSeconds)} on board ${id}`]));
  return set.length === 0 ? "" : `, and to steps of ${shortened(set)}`;
}

function shortened(items: readonly string[]): string {
  return listed(upTo(items, TOLD, TOLD - 1));
}
