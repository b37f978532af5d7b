import type { Figures } from "../../../sim/figures/index.js";
import type { Scenario } from "../../../sim/scenario/model.js";
import { percent, plain, spokenDuration } from "../../../sim/units/text.js";
import { counted, listed, openingInWords, sizeInWords } from "../../words.js";
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

function fiveSentences({ scenes, lit, repeat, visit, anyHour }: Figures, { houses }: Scenario): string[] {
  const most = lit.min === lit.max ? String(lit.min) : `${lit.min} to ${lit.max}`;
  const hour = anyHour.fewestScenes === null ? "" : `, and no hour shows fewer than ${anyHour.fewestScenes}`;
  const stay = spokenDuration(visit.staySeconds);
  const returns = repeat.returns.flatMap(({ afterSeconds, share }) =>
    share === null ? [] : [`${percent(share)} of the time after ${spokenDuration(afterSeconds)}`],
  );
  return [
    `The display shows ${counted(scenes.distinct, "different scene")}${hour}; it is as varied as ${plain(scenes.effective, 3)} scenes that are all shown equally long.`,
    `The scene changes ${plain(scenes.changesPerHour, 3)} times an hour; half of the scenes last ${spokenDuration(scenes.medianSeconds)} or more, the longest ${spokenDuration(scenes.longestSeconds)}.`,
    `Of ${counted(houses.length, "house")} ${most} are lit at once, ${plain(lit.mean, 3)} on average.`,
    returns.length === 0
      ? "How often a returning visitor meets the same scene is not defined for the return times asked for: the display is never open at both moments."
      : `A visitor who comes back meets the same scene ${listed(returns)}; by pure chance it would be ${percent(scenes.sameAtRandom)}.`,
    visit.repeatShare === null
      ? `What a visitor sees who stays ${stay} is not defined: no opening is so long.`
      : `A visitor who stays ${stay} sees ${plain(visit.distinctScenes!, 3)} different scenes on average, and ${percent(visit.repeatShare)} of such visitors see a scene come back before they leave.`,
  ];
}
