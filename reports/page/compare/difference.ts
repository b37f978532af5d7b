import type { Difference } from "../../../sim/compare/index.js";
import type { FigureUnit } from "../../../sim/figures/headlines.js";
import { percent, plain, spokenDuration } from "../../../sim/units/text.js";
import { counted, figureValue } from "../../words.js";

/** Which way a figure is better, in a word. */
export function betterCell({ better }: Difference): string {
  return better ?? "as you like";
}

/** The mean of an alternative, marked where the builds cannot tell it from the first. */
export function meanCell({ unit, values, againstFirst }: Difference, alternative: number): string {
  const value = values[alternative];
  if (value == null) return "not defined";
  const same = alternative > 0 && againstFirst[alternative]?.distinct !== true;
  return `${figureValue(value, unit)}${same ? " ~" : ""}`;
}

/** The interval of an alternative's difference from the first. */
export function intervalCell({ unit, values, againstFirst }: Difference, alternative: number): string {
  const against = againstFirst[alternative];
  if (against == null) return "not defined";
  // what rounding leaves of no difference at all
  const nothing = against.high - against.low < 1e-9 * Math.abs(values[0] ?? 0) || (against.low === 0 && against.high === 0);
  if (nothing && !against.distinct) return "none";
  const [low, high] = [changeValue(against.low, unit), changeValue(against.high, unit)];
  return low === high ? low : `${low} to ${high}`;
}

/** By how much a figure is another, to the digits that an interval leaves a meaning. */
function changeValue(value: number, unit: FigureUnit): string {
  switch (unit) {
    case "s":
      return Math.abs(value) < 0.1 ? `${plain(value, 1)} s` : spokenDuration(value);
    case "share":
      return Math.abs(value) < 1e-4 ? "0 %" : percent(value);
    case "per hour":
    case "":
      return plain(value, Math.abs(value) < 100 ? 2 : 3);
  }
}

/** What the marks and intervals of a table of figures mean. */
export function figuresMean(builds: number, first: string): string {
  return (
    `Means over ${counted(builds, "build")} of each. ~: the builds cannot tell it from ${first}, with all figures asked about at once ` +
    "(Holm's rule: two displays that are alike look different in 1 comparison of 20 at most). Each interval is of its figure by itself: " +
    "it holds the true difference in 95 cases of 100."
  );
}
