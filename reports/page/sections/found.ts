import type { Figures } from "../../../sim/figures/index.js";
import type { Scenario } from "../../../sim/model/scenario.js";
import { percent, plain, spokenDuration } from "../../../sim/units/text.js";
import { counted, listed, openingInWords, sizeInWords } from "../../words.js";
import { html } from "../html.js";
import type { MakeSection } from "../section.js";

/** Houses told by name when some are never lit. */
const NAMED = 6;

/** What was found, in five plain sentences. */
export const found: MakeSection = ({ scenario, figures }) => ({
  id: "found",
  heading: "What was found",
  body: html`<p class="size">${sizeInWords(scenario)}. ${openingInWords(scenario.opening)}.</p>
<ol class="found">
${fiveSentences(figures, scenario).map((sentence) => html`<li>${sentence}</li>\n`)}</ol>
`,
});

function fiveSentences({ scenes, lit, houses: each, repeat, visit, anyHour }: Figures, { houses }: Scenario): string[] {
  const hour = anyHour.fewestScenes === null ? "" : `, and no hour shows fewer than ${anyHour.fewestScenes}`;
  const stay = spokenDuration(visit.staySeconds);
  const returns = repeat.returns.flatMap(({ afterSeconds, share }) =>
    share === null ? [] : [`${percent(share)} of the time after ${spokenDuration(afterSeconds)}`],
  );
  return [
    scenes.distinct === 1
      ? "The display shows one and the same scene all the time."
      : `The display shows ${counted(scenes.distinct, "different scene")}${hour}; it is as varied as ${plain(scenes.effective, 3)} scenes that are all shown equally long.`,
    scenes.changes === 0
      ? "The scene never changes while the display is open."
      : `The scene changes ${plain(scenes.changesPerHour, 3)} times an hour; half of the scenes last ${spokenDuration(scenes.medianSeconds)} or more, the longest ${spokenDuration(scenes.longestSeconds)}.`,
    litInWords(lit, houses.length) + neverLit(houses.filter((_, i) => each[i]!.litShare === 0).map(({ name }) => name), lit.max),
    returns.length === 0
      ? "How often a returning visitor meets the same scene is not defined for the return times asked for: the display is never open at both moments."
      : `A visitor who comes back meets the same scene ${listed(returns)}; by pure chance it would be ${percent(scenes.sameAtRandom)}.`,
    visit.repeatShare === null
      ? `What a visitor sees who stays ${stay} is not defined: no opening is so long.`
      : `A visitor who stays ${stay} sees ${plain(visit.distinctScenes!, 3)} different ${visit.distinctScenes === 1 ? "scene" : "scenes"} on average, and ${percent(visit.repeatShare)} of such visitors see a scene come back before they leave.`,
  ];
}

function litInWords({ min, max, mean }: Figures["lit"], houses: number): string {
  if (max === 0) return "No house is ever lit.";
  if (min === max) return `Of ${counted(houses, "house")} ${max} ${max === 1 ? "is" : "are"} lit at all times.`;
  return `Of ${counted(houses, "house")} ${min} to ${max} are lit at once, ${plain(mean, 3)} on average.`;
}

/** Houses that nothing lights: most likely forgotten in the wiring. */
function neverLit(names: readonly string[], most: number): string {
  if (names.length === 0 || most === 0) return "";
  const told = names.length <= NAMED ? names : [...names.slice(0, NAMED), `${names.length - NAMED} more`];
  return ` Never lit: ${listed(told)}.`;
}
