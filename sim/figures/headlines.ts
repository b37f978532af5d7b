import type { Visitors } from "../model/scenario.js";
import { spokenDuration } from "../units/text.js";
import { toSeconds } from "../units/time.js";
import type { Figures } from "./index.js";
import type { Measures } from "./measures.js";

/** A figure that is told by itself: of a run, over many builds, of alternatives side by side. */
export interface Headline {
  readonly key: FigureKey;
  readonly unit: FigureUnit;
  /** What it is called. */
  readonly words: string;
  /** Null where it is not defined. */
  of(measures: Measures): number | null;
}

/** A number by itself ("") or of what; a share is 0 … 1. */
export type FigureUnit = "" | "s" | "share" | "per hour";

/** The place of a figure among those of a run, such as `repeat.returns[0].share`. */
export type FigureKey =
  | { readonly [Group in "scenes" | "lit" | "visit" | "anyHour"]: `${Group}.${NumbersOf<Figures[Group]>}` }["scenes" | "lit" | "visit" | "anyHour"]
  | `repeat.returns[${number}].share`
  | "houses.longestDarkSeconds";

type NumbersOf<Group> = { [Key in keyof Group & string]: Group[Key] extends number | null ? Key : never }[keyof Group & string];

/** The headline figures, in the order in which they are told. A row more is a figure more in `run`, `spread`, `compare` and the report. */
export function headlines({ stay, returns }: Visitors): Headline[] {
  const stayed = spokenDuration(toSeconds(stay));
  return [
    { key: "scenes.distinct", unit: "", words: "different scenes shown", of: ({ distinct }) => distinct },
    { key: "scenes.effective", unit: "", words: "effective number of scenes", of: ({ effective }) => effective },
    { key: "scenes.sameAtRandom", unit: "share", words: "two glances at random show the same", of: ({ sameAtRandom }) => sameAtRandom },
    { key: "scenes.changesPerHour", unit: "per hour", words: "scene changes an hour", of: ({ changesPerHour }) => changesPerHour },
    { key: "scenes.shortestSeconds", unit: "s", words: "shortest spell", of: ({ shortestSpell }) => toSeconds(shortestSpell) },
    { key: "scenes.medianSeconds", unit: "s", words: "median spell", of: ({ medianSpell }) => toSeconds(medianSpell) },
    { key: "scenes.longestSeconds", unit: "s", words: "longest spell", of: ({ spells }) => toSeconds(spells.longest) },
    ...returns.map(
      (delay, i): Headline => ({
        key: `repeat.returns[${i}].share`,
        unit: "share",
        words: `same scene again after ${spokenDuration(toSeconds(delay))}`,
        of: (measures) => measures.repeatAfter(delay),
      }),
    ),
    {
      key: "visit.repeatShare",
      unit: "share",
      words: `see a scene come back in ${stayed}`,
      of: (measures) => measures.repeatWithin(stay),
    },
    { key: "visit.distinctScenes", unit: "", words: `different scenes seen in ${stayed}`, of: ({ distinctPerVisit }) => distinctPerVisit },
    { key: "anyHour.fewestScenes", unit: "", words: "fewest scenes in any hour", of: ({ fewestScenes }) => fewestScenes },
    { key: "lit.mean", unit: "", words: "houses lit at once, on average", of: ({ meanLit }) => meanLit },
    { key: "houses.longestDarkSeconds", unit: "s", words: "longest time that a house is dark",
      of: ({ longestDark }) => toSeconds(longestDark) },
  ];
}
