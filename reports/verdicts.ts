import type { SceneRecord } from "../sim/engine/record.js";
import { dayBeforeFigures } from "../sim/figures/daybefore.js";
import type { Figures } from "../sim/figures/index.js";
import type { Echo } from "../sim/figures/repeat.js";
import { timeline } from "../sim/figures/timeline.js";
import type { Scenario } from "../sim/model/scenario.js";
import { sameDays } from "../sim/planning/days.js";
import type { PromiseResult } from "../sim/promises/index.js";
import type { Rating } from "../sim/ratings/index.js";
import { listed, percent, plain, spokenDuration, toTheSecond } from "../sim/units/text.js";
import { counted } from "./words.js";

/** What the verdicts are spoken from. */
export interface Facts {
  readonly scenario: Scenario;
  readonly record: SceneRecord;
  readonly figures: Figures;
  readonly promises: readonly PromiseResult[];
  readonly ratings: readonly Rating[];
}

/** One of the few sentences with which a report begins. */
export interface LeadSentence {
  /** Anchor of the section that says more. */
  readonly section: string;
  /** `good` and `bad` where somebody has said what is wanted; else `plain`. */
  readonly tone: "good" | "bad" | "plain";
  readonly sentence: string;
}

/** From this share on a day's beginning counts as that of the day before, and up to that one as another. */
const ALIKE = 0.9;
const APART = 0.2;

/** Four or five plain sentences: what a committee asks first. */
export function verdictsOf(facts: Facts): LeadSentence[] {
  return [promised(facts), again(facts), ...mornings(facts), lights(facts), rated(facts)];
}

function promised({ promises }: Facts): LeadSentence {
  const section = "promises";
  if (promises.length === 0) return { section: "found", tone: "plain", sentence: "Nothing is promised yet: the scenario has no list of " +
    "promises to check." };
  const broken = promises.filter(({ kept }) => !kept);
  if (broken.length === 0) {
    return { section, tone: "good",
      sentence: promises.length === 1 ? "The one promise is kept." : `All ${promises.length} promises are kept.` };
  }
  const first = `${broken.length === 1 ? "" : "the first "}“${broken[0]!.text}”`;
  return { section, tone: "bad", sentence: `${broken.length} of ${counted(promises.length, "promise")} ${broken.length === 1 ? "is" : "are"} broken: ${first}.` };
}

function again({ figures: { scenes, visit, repeat } }: Facts): LeadSentence {
  const section = "repeats";
  if (scenes.distinct === 1) return { section, tone: "plain", sentence: "The picture is always the same." };
  const staying =
    visit.repeatShare === null
      ? []
      : [`of visitors who stay ${spokenDuration(visit.staySeconds)}, ${visit.repeatShare === 0 ? "none" : percent(visit.repeatShare)} ` +
        "see a picture twice"];
  const returning = repeat.returns.find(({ share }) => share !== null);
  const back =
    returning === undefined
      ? []
      : [`coming back after ${spokenDuration(returning.afterSeconds)}, ` +
        `${returning.share === 0 ? "nobody meets" : `${percent(returning.share!)} meet`} the same picture`];
  const worst = repeat.echoes.reduce<Echo | null>((most, echo) => (most === null || echo.share > most.share ? echo : most), null);
  const most = worst === null || worst.share <= (returning?.share ?? 0) ? [] : [`after ${toTheSecond(worst.afterSeconds)} ${percent(worst.share)} do`];
  const sentence = [...staying, ...back, ...most].join("; ");
  if (sentence === "") return { section, tone: "plain", sentence: "Nobody can come back while it is open: the openings are too short." };
  return { section, tone: "plain", sentence: `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}.` };
}

function mornings({ record }: Facts): LeadSentence[] {
  const same = sameDays(record);
  if (same !== null) return [{ section: "repeats", tone: "plain", sentence: same.found }];
  const { firstHourShare: share } = dayBeforeFigures(timeline(record));
  if (share === null) return [];
  return [{ section: "repeats", tone: "plain", sentence: morningsInWords(share) }];
}

function morningsInWords(share: number): string {
  const much = `the first hour shows what the day before showed for ${percent(share)} of the time`;
  if (share === 1) return "Every morning begins exactly like the one before.";
  if (share >= ALIKE) return `Every morning begins much like the one before: ${much}.`;
  if (share === 0) return "No two mornings are alike: the first hour never shows what the day before showed.";
  return share <= APART ? `No two mornings are alike: ${much}.` : `Mornings are partly alike: ${much}.`;
}

function lights({ figures: { lit }, scenario: { houses } }: Facts): LeadSentence {
  const section = "lit";
  if (lit.max === 0) return { section, tone: "bad", sentence: "No house is ever lit." };
  if (lit.min > 0) {
    const range = lit.min === lit.max ? `${lit.min}` : `${lit.min} to ${lit.max}`;
    return { section, tone: "plain", sentence: `There are always lights on: ${range} of ${counted(houses.length, "house")}.` };
  }
  return { section, tone: "plain", sentence: `Not always is there light: for ${percent(lit.shares[0]!)} of the time every house is ` +
    `dark. On average ${plain(lit.mean, 3)} of ${houses.length} are lit.` };
}

function rated({ ratings }: Facts): LeadSentence {
  const section = "ratings";
  if (ratings.length === 0) return { section: "boards", tone: "plain", sentence: "Nothing in it has a rating to check." };
  const over = ratings.filter(({ verdict }) => verdict === "over");
  if (over.length > 0) {
    const where = [...new Set(over.map((row) => row.what))].slice(0, 3);
    return { section, tone: "bad", sentence: `${over.length} of ${counted(ratings.length, "rating")} ${over.length === 1 ? "is" : "are"} exceeded: ${listed(where)}.` };
  }
  const fullest = ratings.reduce((most, row) => (row.share > most.share ? row : most));
  return { section, tone: "good", sentence: `Everything is inside its rating; the fullest is ${fullest.what} of ${fullest.where}, at ` +
    `${percent(fullest.share)} of its limit.` };
}
