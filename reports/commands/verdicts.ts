import { instantText } from "../../sim/engine/instant.js";
import { valueText, type PromiseResult } from "../../sim/promises/index.js";
import type { Opening } from "../../sim/model/scenario.js";
import type { Rating } from "../../sim/ratings/index.js";
import { percent } from "../../sim/units/text.js";
import { type Block } from "../terminal/layout.js";
import { table } from "../terminal/table.js";
import { capitalised, limitInWords, withUnit } from "../words.js";

/** Whether a promise is broken or a rating over its limit: what exit status 1 says. */
export function isBroken(promises: readonly PromiseResult[], ratings: readonly Rating[]): boolean {
  return ratings.some(({ verdict }) => verdict === "over") || promises.some(({ kept }) => !kept);
}

/**
 * Ratings for a terminal: of each kind the fullest row, and every row that is not within its limit by a margin; then
 * where the worst moments are and what would help.
 */
export function ratingsAsText(rows: readonly Rating[], opening: Opening): Block[] {
  if (rows.length === 0) return ["Nothing is connected that has a limit."];
  const fullest = [...rows].sort((a, b) => b.share - a.share);
  const kinds = new Map<string, number>();
  for (const { what } of rows) kinds.set(what, (kinds.get(what) ?? 0) + 1);
  const shown = fullest.filter(
    ({ what, verdict }, i) => verdict !== "within" || fullest.findIndex((other) => other.what === what) === i,
  );
  const drawn = table(
    ["what", "fullest", ">of", ">value", ">limit", ">share", "verdict"],
    shown.map(({ what, where, value, unit, share, verdict, ...rating }) => [
      what,
      where,
      String(kinds.get(what)!),
      withUnit(value, unit),
      limitInWords({ value, unit, share, ...rating }),
      percent(share),
      verdict,
    ]),
  );
  const remarks = shown
    .filter(({ verdict }) => verdict !== "within")
    .map(({ what, where, verdict, worst, advice }) => {
      const when = worst === null ? "" : `, first in ${instantText(worst.at, opening)}`;
      return `${capitalised(what)}, ${where}: ${verdict}${when}.${advice === null ? "" : ` ${capitalised(advice)}.`}`;
    });
  return remarks.length === 0 ? [drawn] : [drawn, "", ...remarks];
}

/** Promises for a terminal: what was promised, what was found, and where a broken one is at its worst. */
export function promisesAsText(results: readonly PromiseResult[], opening: Opening): Block[] {
  const rows = table(
    ["promise", ">found", ">limit", "verdict"],
    results.map(({ text, value, limit, unit, kept }) => [
      text,
      value === null ? (kept ? "does not arise" : "a timer stalls") : valueText(value, limit, unit),
      valueText(limit, null, unit),
      kept ? "kept" : "broken",
    ]),
  );
  const breaks = results.flatMap(({ text, where }) =>
    where === null ? [] : [`Broken: ${text}. ${capitalised(`${where.at === null ? "" : `in ${instantText(where.at, opening)}: `}${where.what}`)}.`],
  );
  return breaks.length === 0 ? [rows] : [rows, "", ...breaks];
}
