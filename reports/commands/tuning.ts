import type { MeasuredAdvice } from "../../sim/tune/advice.js";
import type { TunedSetting, Tuning } from "../../sim/tune/index.js";
import { duration } from "../../sim/units/quantities.js";
import { percent, plain, spokenDuration } from "../../sim/units/text.js";
import type { Block } from "../terminal/layout.js";
import { table } from "../terminal/table.js";
import { counted } from "../words.js";

/** A lower score by less than this is one visitor in two hundred, more or less: nobody notices. Our own choice. */
const NOTICED = 0.005;
/** … unless the worst return time gets better by as much. */
const ECHO_NOTICED = 0.1;
/** Knobs this close to an end of their travel are named. */
const NEAR_STOP = 0.05;

const NOMINAL_ALONE = "tried with nominal parts alone";
const SOME = "out of some of those that were to be tried";

/** What tuning has found, for a terminal; `between`: steps were asked for by an option. */
export function tuningAsText({ settings, present, calmer, builds, stopped, longestReturn, looked, advice }: Tuning, between: boolean): Block[] {
  const ids = Object.keys(settings[0]!.boards);
  const rows = [...settings.map((setting, i) => [String(i + 1), setting] as const), ...(present === null ? [] : [["now", present] as const])];
  const best = settings[0]!;
  return [
    ...(stopped ? [`Stopped early: these are the best settings so far, ${builds === 0 ? NOMINAL_ALONE : SOME}.`] : []),
    `Score: how often the same scene is met again, mean over return times from 1 min to ${spokenDuration(longestReturn)}, ` +
      "plus the share of visitors who see a scene come back during their stay (so at most 200 %); lower is better. " +
      (builds === 0 ? "Nominal parts." : `Means over ${counted(builds, "build")}.`),
    "",
    table(
      [">", ...ids.map((id) => `>${id}`), ">score", ">worst echo", ">by chance", ">reading error costs", ">out of reach"],
      rows.map(([name, { boards, score, worstEcho, chance, readingCost, unreachable }]) => [
        name,
        ...ids.map((id) => `${stepText(boards[id]!.stepSeconds)} (${percent(boards[id]!.dial)})`),
        ...[score, worstEcho, chance, readingCost].map(fine),
        unreachable === 0 ? "never" : counted(unreachable, "build"),
      ]),
    ),
    "Behind each step time: where the knob stands with nominal parts, on the scale of its card. By chance: two glances at any two moments.",
    "Settings that keep more promises come first, then those that more builds reach; scores within half a percent of each other " +
      "count as equal, and the lower worst " +
      "echo decides.",
    ...lookedText(looked, between),
    ...remarks(best, present, calmer, settings),
    ...stopsText(rows),
    ...advice.map(adviceText),
    "",
    ...promisesText(rows),
  ];
}

function remarks(best: TunedSetting, present: TunedSetting | null, calmer: number | null, settings: readonly TunedSetting[]): string[] {
  const lines: string[] = [];
  const gain = present === null || keepsMore(best, present) ? Infinity : present.score - best.score;
  if (present !== null && present.score <= best.score * 1.02) lines.push("The present setting is as good as the best that was found.");
  else if (gain < NOTICED && present!.worstEcho < best.worstEcho + ECHO_NOTICED) {
    lines.push(
      `The best setting lowers the score from ${fine(present!.score)} to ${fine(best.score)}: too little for anybody to notice, so that ` +
        "no knob needs to be turned for it.",
    );
  }
  if (calmer !== null) {
    const { worstEcho, score } = settings[calmer]!;
    lines.push(
      `Setting ${calmer + 1} is calmer: its worst echo is ${fine(worstEcho)} instead of ${fine(best.worstEcho)}, for a score of ` +
        `${fine(score)} instead of ${fine(best.score)}.`,
    );
  }
  if (best.stalled > 0) lines.push(`In ${counted(best.stalled, "build")} a timer stalls; they are left out of the score and keep ` +
    "no promise.");
  return lines;
}

function keepsMore(one: TunedSetting, other: TunedSetting): boolean {
  return one.promises.some(({ kept }, p) => kept > other.promises[p]!.kept);
}

/** Which step times were looked at, and why those. */
function lookedText(looked: Tuning["looked"], between: boolean): string[] {
  const ranges = (some: Tuning["looked"]): string =>
    some.map(({ id, from, to }) => `${id} ${spokenDuration(from)} to ${spokenDuration(to)}`).join(", ");
  const paced = looked.filter((one) => one.paced);
  const bound = looked.filter((one) => !one.paced);
  return [
    ...(bound.length === 0
      ? []
      : [
          `Step times looked at: ${ranges(bound)}: what ${between ? "--between asks for" : "the step promise allows"}, as far as the ` +
            "knobs reach.",
        ]),
    ...(paced.length === 0
      ? []
      : [
          `Step times looked at: ${ranges(paced)}: half to twice today's pace, as far as the knobs reach, since no step promise says ` +
            "otherwise; --between 2min..4min, say, would.",
        ]),
  ];
}

/** Knobs that stand close to a stop, where a part that comes out otherwise leaves no way to go. */
function stopsText(rows: readonly (readonly [string, TunedSetting])[]): string[] {
  return rows.flatMap(([name, { boards }]) => {
    const close = Object.entries(boards).filter(([, { dial }]) => dial < NEAR_STOP || dial > 1 - NEAR_STOP);
    if (close.length === 0) return [];
    const where = close.map(([id, { dial }]) => `${id} at ${percent(dial)} of its travel`).join(", ");
    const which = name === "now" ? "The present setting" : `Setting ${name}`;
    return [
      `${which} has a knob within ${percent(NEAR_STOP)} of its stop: ${where}. Other parts, or a warm day, may put it out of reach.`,
    ];
  });
}

function adviceText({ id, stepSeconds, betterSeconds, score, betterScore }: MeasuredAdvice): string {
  return (
    `Board ${id} has no knob here; if its step could be changed, ${spokenDuration(betterSeconds)} instead of ` +
      `${spokenDuration(stepSeconds)} ` +
    `would bring the mean from ${fine(score)} to ${fine(betterScore)} (worked out from step times alone).`
  );
}

/** A step time as it is written to a file where that is short, else rounded. */
function stepText(seconds: number): string {
  const exact = duration.format(seconds);
  return exact.length <= "1 h 59 min 59.9 s".length ? exact : spokenDuration(seconds);
}

/** A share in percent with three digits, since good settings differ in the third. */
function fine(share: number): string {
  return `${plain(share * 100, 3)} %`;
}

function promisesText(rows: readonly (readonly [string, TunedSetting])[]): Block[] {
  const { promises } = rows[0]![1];
  if (promises.length === 0) return ["No promises are made."];
  return [
    "Promises: in how many builds each setting keeps them",
    table(
      ["promise", ...rows.map(([name]) => `>${name}`)],
      promises.map(({ text }, p) => [text, ...rows.map(([, setting]) => `${setting.promises[p]!.kept} of ${setting.promises[p]!.builds}`)]),
    ),
  ];
}
