import type { Scenario } from "../model/scenario.js";
import { percent, plain, spokenDuration } from "../units/text.js";
import type { Figures } from "./index.js";
import type { RepeatFigures } from "./repeat.js";
import type { VisitFigures } from "./visit.js";
import { toSeconds } from "../units/time.js";

/** What the figures of a display mean for its visitors, in plain sentences. */
export function sentences({ scenes, lit, repeat, visit, anyHour }: Figures, { houses, opening }: Scenario): string[] {
  const openFor = spokenDuration(toSeconds(opening.until - opening.from));
  const { fewestScenes } = anyHour;
  return [
    `The display shows ${counted(scenes.distinct, "different scene")}; in variety they amount to ${plain(scenes.effective, 3)} that are all shown equally long.`,
    `The scene changes ${plain(scenes.changesPerHour, 3)} times an hour; half of the scenes last ${spokenDuration(scenes.medianSeconds)} or more, the longest ${spokenDuration(scenes.longestSeconds)}.`,
    `Of ${counted(houses.length, "house")} ${lit.min === lit.max ? lit.min : `${lit.min} to ${lit.max}`} are lit at once, ${plain(lit.mean, 3)} on average.`,
    `Two glances at random moments meet the same scene ${percent(scenes.sameAtRandom)} of the time.`,
    ...returnSentences(repeat),
    ...visitSentences(visit, openFor),
    fewestScenes === null
      ? `The fewest scenes in any hour are not defined: the openings are shorter than 1 h.`
      : `In any hour at least ${counted(fewestScenes, "different scene")} can be seen.`,
  ];
}

function returnSentences({ returns, echoes }: RepeatFigures): string[] {
  const sentences = returns.map(({ afterSeconds, share }) => {
    const after = spokenDuration(afterSeconds);
    return share === null
      ? `How often a visitor who comes back after ${after} meets the same scene is not defined: the display is never open both at some moment and ${after} later.`
      : `A visitor who comes back after ${after} meets the same scene ${percent(share)} of the time.`;
  });
  const strongest = echoes.reduce((best, echo) => (echo.share > best.share ? echo : best), { afterSeconds: 0, share: 0 });
  if (strongest.share === 0) return sentences;
  return [
    ...sentences,
    `There ${echoes.length === 1 ? "is one return time" : `are ${echoes.length} return times`} up to 3 h at which the same scene is met unusually often, most of all ${spokenDuration(strongest.afterSeconds)} with ${percent(strongest.share)}.`,
  ];
}

function visitSentences({ staySeconds, distinctScenes, changesSeen, repeatShare }: VisitFigures, openFor: string): string[] {
  const stay = spokenDuration(staySeconds);
  if (distinctScenes === null || changesSeen === null || repeatShare === null) {
    return [`What a visitor sees who stays ${stay} is not defined: the openings last ${openFor}, not longer.`];
  }
  return [
    `A visitor who stays ${stay} sees ${plain(distinctScenes, 3)} different scenes on average, and the scene change ${plain(changesSeen, 3)} times.`,
    `${percent(repeatShare)} of these visitors see a scene come back before they leave.`,
  ];
}

function counted(n: number, noun: string): string {
  return `${n} ${noun}${n === 1 ? "" : "s"}`;
}
