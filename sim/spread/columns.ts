import type { Measures } from "../figures/measures.js";
import type { Scenario } from "../model/scenario.js";

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
  const stay = visitors.stay / 1e6;
  return [
    { name: "scenes.distinct", unit: "", of: ({ totals }) => totals.sceneTime.reduce((n, time) => (time > 0 ? n + 1 : n), 0) },
    { name: "scenes.effective", unit: "", of: ({ sameAtRandom }) => 1 / sameAtRandom },
    { name: "scenes.sameAtRandom", unit: "share", of: ({ sameAtRandom }) => sameAtRandom },
    {
      name: "scenes.changesPerHour",
      unit: "per hour",
      of: ({ totals, record }) => (totals.spells.length - record.openings.length) / (totals.open / 3.6e9),
    },
    { name: "scenes.shortestSeconds", unit: "s", of: ({ totals }) => totals.spells.reduce((a, b) => Math.min(a, b)) / 1e6 },
    { name: "scenes.medianSeconds", unit: "s", of: ({ medianSpell }) => medianSpell / 1e6 },
    { name: "scenes.longestSeconds", unit: "s", of: ({ spells }) => spells.longest / 1e6 },
    ...visitors.returns.map(
      (delay, i): Headline => ({
        name: `repeat.returns[${i}].share`,
        unit: "share",
        of: (measures) => measures.repeatAfter(delay / 1e6),
      }),
    ),
    { name: "visit.repeatShare", unit: "share", of: (measures) => measures.repeatWithin(stay) },
    { name: "visit.distinctScenes", unit: "", of: ({ distinctPerVisit }) => distinctPerVisit },
    { name: "anyHour.fewestScenes", unit: "", of: ({ fewestScenes }) => fewestScenes },
    { name: "lit.mean", unit: "", of: ({ meanLit }) => meanLit },
    { name: "houses.longestDarkSeconds", unit: "s", of: ({ longestDark }) => longestDark / 1e6 },
  ];
}
