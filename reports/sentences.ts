import type { Figures } from "../sim/figures/index.js";
import type { RepeatFigures } from "../sim/figures/repeat.js";
import { houseName } from "../sim/model/housename.js";
import type { Scenario } from "../sim/model/scenario.js";
import { listed, percent, plain, spokenDuration, toTheSecond, upTo } from "../sim/units/text.js";
import { counted } from "./words.js";

/** Houses told by name when some are never lit. */
const NAMED = 6;

/** What the figures of a display mean for its visitors, in five plain sentences, the same on a terminal and on paper. */
export function fiveSentences(figures: Figures, scenario: Scenario): string[] {
  const { scenes, lit, houses, repeat, visit, anyHour } = figures;
  const hour = anyHour.fewestScenes === null ? "" : `, and no hour shows fewer than ${anyHour.fewestScenes}`;
  const stay = spokenDuration(visit.staySeconds);
  const returns = repeat.returns.flatMap(({ afterSeconds, share }) =>
    share === null || share === 0 ? [] : [`${percent(share)} of the time after ${spokenDuration(afterSeconds)}`],
  );
  const never = repeat.returns.flatMap(({ afterSeconds, share }) => (share === 0 ? [spokenDuration(afterSeconds)] : []));
  const dark = houses.flatMap(({ litShare }, house) => (litShare === 0 ? [houseName(scenario, house)] : []));
  return [
    scenes.distinct === 1
      ? "The display shows one and the same scene all the time."
      : `The display shows ${counted(scenes.distinct, "different scene")}${hour}. Who looks twice, at any two moments, sees ` +
        `the same scene once in ${plain(scenes.effective, 3)} times.`,
    scenes.changes === 0
      ? "The scene never changes while the display is open."
      : `The scene changes ${plain(scenes.changesPerHour, 3)} times an hour; half of the scenes last ` +
        `${spokenDuration(scenes.medianSeconds)} or more, the longest ${spokenDuration(scenes.longestSeconds)}.`,
    litInWords(lit, houses.length) + neverLit(dark, lit.max),
    returns.length + never.length === 0
      ? "How often a returning visitor meets the same scene is not defined for the return times asked for: the display is never open " +
        "at both moments."
      : `${returningInWords(returns, never)}; by pure chance it would be ${percent(scenes.sameAtRandom)}.`,
    visit.repeatShare === null
      ? `What a visitor sees who stays ${stay} is not defined: no opening is so long.`
      : visit.distinctScenes === 1
        ? `A visitor who stays ${stay} sees one and the same scene.`
        : `A visitor who stays ${stay} sees ${plain(visit.distinctScenes!, 3)} different scenes on average, and ` +
          `${comingBackInWords(visit.repeatShare)}.`,
  ];
}

function comingBackInWords(share: number): string {
  if (share === 0) return "never sees a scene come back before leaving";
  return `${percent(share)} of such visitors see a scene come back before they leave`;
}

/** Return times after which the same scene is never met are told together. */
function returningInWords(returns: readonly string[], never: readonly string[]): string {
  if (returns.length === 0) return `A visitor who comes back after ${listed(never, "or")} never meets the same scene`;
  const some = `A visitor who comes back meets the same scene ${listed(returns)}`;
  return never.length === 0 ? some : `${some}, and never after ${listed(never, "or")}`;
}

function litInWords({ min, max, mean }: Figures["lit"], houses: number): string {
  if (max === 0) return "No house is ever lit.";
  if (min === max) return `Of ${counted(houses, "house")} ${max} ${max === 1 ? "is" : "are"} lit at all times.`;
  return `Of ${counted(houses, "house")} ${min} to ${max} are lit at once, ${plain(mean, 3)} on average.`;
}

/** Houses that nothing lights: most likely forgotten in the wiring. */
function neverLit(names: readonly string[], most: number): string {
  if (names.length === 0 || most === 0) return "";
  return ` Never lit: ${listed(upTo(names, NAMED))}.`;
}

/** The return times at which the same scene is met unusually often; nothing where there are none. */
export function echoesInWords({ echoes }: Pick<RepeatFigures, "echoes">): string[] {
  const [first, ...others] = echoes;
  if (first === undefined) return [];
  const strongest = others.reduce((best, echo) => (echo.share > best.share ? echo : best), first);
  const many = echoes.length === 1 ? "is one return time" : `are ${echoes.length} return times`;
  return [
    `There ${many} up to 3 h at which the same scene is met unusually often, most of all ${toTheSecond(strongest.afterSeconds)} ` +
      `with ${percent(strongest.share)}.`,
  ];
}
