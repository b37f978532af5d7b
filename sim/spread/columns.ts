import type { Measures } from "../figures/measures.js";
import type { Scenario } from "../model/scenario.js";
import { HOUR, toSeconds } from "../units/time.js";

/** A figure that is gathered over the builds. */
export interface Headline {
  /** Its place among the figures of a run, such as `repeat.returns[0].share`. */
  readonly name: string;
  readonly unit: "" | "s" | "share" | "per hour";
  /** Null where it is not defined. */
  of(measures: Measures): number | null;
}

/** The figures that are gathered, in order. Definitions as in the figures of a run. */
export function headlines({ visitors }: Scenario): Headline[] {
  const stay = toSeconds(visitors.stay);
  return [
    { name: "scenes.distinct", unit: "", of: ({ totals }) => totals.sceneTime.reduce((n, time) => (time > 0 ? n + 1 : n), 0) },
    { name: "scenes.effective", unit: "", of: ({ sameAtRandom }) => 1 / sameAtRandom },
    { name: "scenes.sameAtRandom", unit: "share", of: ({ sameAtRandom }) => sameAtRandom },
    {
      name: "scenes.changesPerHour",
      unit: "per hour",
      of: ({ totals, record }) => (totals.spells.length - record.openings.length) / (totals.open / HOUR),
    },
    { name: "scenes.shortestSeconds", unit: "s", of: ({ totals }) => toSeconds(totals.spells.reduce((a, b) => Math.min(a, b))) },
    { name: "scenes.medianSeconds", unit: "s", of: ({ medianSpell }) => toSeconds(medianSpell) },
    { name: "scenes.longestSeconds", unit: "s", of: ({ spells }) => toSeconds(spells.longest) },
    ...visitors.returns.map(
      (delay, i): Headline => ({
        name: `repeat.returns[${i}].share`,
        unit: "share",
        of: (measures) => measures.repeatAfter(toSeconds(delay)),
      }),
    ),
    { name: "visit.repeatShare", unit: "share", of: (measures) => measures.repeatWithin(stay) },
    { name: "visit.distinctScenes", unit: "", of: ({ distinctPerVisit }) => distinctPerVisit },
    { name: "anyHour.fewestScenes", unit: "", of: ({ fewestScenes }) => fewestScenes },
    { name: "lit.mean", unit: "", of: ({ meanLit }) => meanLit },
    { name: "houses.longestDarkSeconds", unit: "s", of: ({ longestDark }) => toSeconds(longestDark) },
  ];
}
