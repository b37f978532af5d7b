import type { Figures } from "../../../sim/figures/index.js";
import { dayBeforeFigures } from "../../../sim/figures/daybefore.js";
import { timeline } from "../../../sim/figures/timeline.js";
import { advise } from "../../../sim/planning/advice.js";
import { boardPairs, type BoardPair } from "../../../sim/planning/pairs.js";
import { percent, plain, spokenDuration, toTheSecond } from "../../../sim/units/text.js";
import { drawDayStrip } from "../../pictures/day-strip.js";
import { drawReturnCurve } from "../../pictures/return-curve.js";
import { fallEnd } from "../../pictures/share-plot.js";
import { drawVisitCurve } from "../../pictures/visit-curve.js";
import { flatReturns, flatStays } from "../../flatcurves.js";
import { html, type Html } from "../html.js";
import { fold, right, table, type Album, type MakeSection } from "../section.js";

/** How often somebody meets the same scene again: coming back, staying, from day to day. */
export const repeats: MakeSection = ({ record, figures }, album) => {
  const { echoes } = figures.repeat;
  const echoed =
    echoes.length === 0
      ? html`<p>${noEcho(figures.repeat.curve)}</p>\n`
      : html`<p>Return times at which the same scene is met unusually often: ${echoes
          .map(({ afterSeconds, share }) => `${toTheSecond(afterSeconds)} (${percent(share)})`)
          .join(", ")}.</p>\n`;
  const told = (sentence: string): Html => html`<p>${sentence}</p>\n`;
  const [flatReturn, flatStay] = [flatReturns(figures), flatStays(figures)];
  const returning = flatReturn === null
    ? html`${album.fitting("return-curve", drawReturnCurve(album.document, figures, { width: album.width }))}${echoed}`
    : told(flatReturn);
  const staying = flatStay === null
    ? album.fitting("visit-curve", drawVisitCurve(album.document, figures, { width: album.width }))
    : told(flatStay);
  return {
    id: "repeats",
    heading: "How often the same picture comes back",
    body: html`${returning}${staying}${record.openings.length < 2 ? html`` : dayByDay(record, album)}`,
  };
};

/** What a curve without echoes comes to after it has first fallen. */
function noEcho(curve: Figures["repeat"]["curve"]): string {
  const points = curve.flatMap(({ afterSeconds, share }) => (share === null ? [] : [{ afterSeconds, share }]));
  const later = points.slice(fallEnd(points.map(({ share }) => share)));
  const most = later.reduce((one, other) => (other.share > one.share ? other : one), { afterSeconds: 0, share: 0 });
  const rare = "At no return time up to 3 h is the same scene met as often as one time in four";
  const peak = `most often after ${spokenDuration(most.afterSeconds)}, ${percent(most.share)} of the time`;
  return most.share === 0 ? `${rare}.` : `${rare}; ${peak}.`;
}

/** How alike the days are; where none repeats any of the one before, or each repeats all of it, a sentence for all of them. */
function dayByDay(record: Parameters<typeof timeline>[0], album: Album): Html {
  const { firstHourShare, restShare } = dayBeforeFigures(timeline(record));
  if (firstHourShare === null) return html``;
  const days = record.openings.length;
  if (firstHourShare === 0 && (restShare ?? 0) === 0) {
    return html`<p>From day to day: none of the ${days} openings shows, at any time, what the opening before it showed at that time.</p>\n`;
  }
  if (firstHourShare === 1 && (restShare ?? 1) === 1) {
    const same = "every opening after the first shows, at any time, just what the opening before it showed at that time";
    return html`<p>From day to day: ${same}.</p>\n`;
  }
  const rest = restShare === null ? "" : `, and for ${percent(restShare)} of the rest of the day`;
  const alike =
    restShare !== null && firstHourShare > restShare + 0.1
      ? " Boards that are switched on together each morning begin each day alike."
      : "";
  const first = `In its first hour a day shows the scene of the same time of the day before for ${percent(firstHourShare)} of the time`;
  return html`<p>${first}${rest}.${alike}</p>\n${album.fitting("day-strip", drawDayStrip(album.document, record, album.width))}`;
}

/** More pairs of boards than this would fill pages. */
const PAIRS_TOLD = 10;

/** Why: how the cycles of the boards fit each other. */
export const why: MakeSection = ({ scenario }) => {
  const pairs = boardPairs(scenario);
  if (pairs.length === 0) return null;
  return {
    id: "why",
    heading: "Why it comes back",
    body: html`<p>The whole picture comes back when every board does. Two boards do so together when some rounds of one last about as long
as some rounds of the other: the fraction of small numbers nearest to the ratio of their cycles tells after how many.</p>
${fold("Pair by pair", html`${soonest(pairs).map(pairInWords)}${
      pairs.length <= PAIRS_TOLD
        ? html`` : html`<p>These are the ${PAIRS_TOLD} pairs that come back in step soonest, of ${pairs.length}.</p>\n`
    }`)}`,
  };
};

/** The pairs that come back in step soonest, in board order. */
function soonest(pairs: readonly BoardPair[]): BoardPair[] {
  const wait = ({ locked, approximations }: BoardPair): number =>
    locked ? 0 : Math.min(...approximations.filter(({ offSteps }) => offSteps < 1).map(({ afterSeconds }) => afterSeconds));
  const told = new Set([...pairs].sort((a, b) => (wait(a) < wait(b) ? -1 : wait(a) > wait(b) ? 1 : 0)).slice(0, PAIRS_TOLD));
  return pairs.filter((pair) => told.has(pair));
}

function pairInWords({ a, b, ratio, locked, approximations }: BoardPair): Html {
  const heading = html`<h3>${a} and ${b}</h3>\n`;
  if (locked) {
    const together = "One timer clocks both, so that they always come round together: the ratio of their cycles is";
    return html`${heading}<p>${together} ${plain(ratio, 6)}.</p>\n`;
  }
  const rows = approximations.map(({ p, q, afterSeconds, offSeconds, offSteps }) => [
    `${q} of ${a}, ${p} of ${b}`,
    `${p}/${q}`,
    spokenDuration(afterSeconds),
    offSeconds === 0 ? "nothing" : spokenDuration(Math.abs(offSeconds)),
    offBy(offSteps),
  ]);
  return html`${heading}<p>The cycle of ${a} is ${plain(ratio, 5)} times that of ${b}.</p>
${table(["rounds", "ratio", right("after"), right("then apart by"), right("which is")], rows)}`;
}

/** How far two boards are apart, by their steps. */
function offBy(steps: number): string {
  if (steps < 5e-5) return "step by step the same again";
  return steps >= 1 ? `${plain(steps, 3)} steps: nothing comes back` : `${percent(steps)} of a step`;
}

/** What would make the picture come back less often. */
export const advice: MakeSection = ({ record, figures }) => {
  const found = advise(record, figures);
  if (found.length === 0) return null;
  return {
    id: "advice",
    heading: "What would help",
    body: html`<ul>\n${found.map(({ text }) => html`<li>${withKeys(text)}</li>\n`)}</ul>\n`,
  };
};

/** A sentence in which keys of the scenario file stand between backticks. */
function withKeys(text: string): Html[] {
  return text.split("`").map((part, i) => (i % 2 === 0 ? html`${part}` : html`<code>${part}</code>`));
}
