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
  /** Whether a display is more varied with more of it or with less; null where that is a matter of taste. */
  readonly better: Better | null;
  /** Null where it is not defined. */
  of(measures: Measures): number | null;
}

/** Which way a figure is better. */
export type Better = "more" | "less";

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
    { key: "scenes.distinct", unit: "", words: "different scenes shown", better: "more", of: ({ distinct }) => distinct },
    { key: "scenes.effective", unit: "", words: "as varied as so many equal scenes", better: "more", of: ({ effective }) => effective },
    { key: "scenes.sameAtRandom", unit: "share", words: "two glances at random show the same", better: "less",
      of: ({ sameAtRandom }) => sameAtRandom },
    { key: "scenes.changesPerHour", unit: "per hour", words: "scene changes an hour", better: null, of: ({ changesPerHour }) => changesPerHour },
    { key: "scenes.shortestSeconds", unit: "s", words: "shortest scene lasts", better: null, of: ({ shortestSpell }) => toSeconds(shortestSpell) },
    { key: "scenes.medianSeconds", unit: "s", words: "half of the scenes last at least", better: null,
      of: ({ medianSpell }) => toSeconds(medianSpell) },
    { key: "scenes.longestSeconds", unit: "s", words: "longest scene lasts", better: "less", of: ({ spells }) => toSeconds(spells.longest) },
    ...returns.map(
      (delay, i): Headline => ({
        key: `repeat.returns[${i}].share`,
        unit: "share",
        words: `same scene again after ${spokenDuration(toSeconds(delay))}`,
        better: "less",
        of: (measures) => measures.repeatAfter(delay),
      }),
    ),
    {
      key: "visit.repeatShare",
      unit: "share",
      words: `see a scene come back in ${stayed}`,
      better: "less",
      of: (measures) => measures.repeatWithin(stay),
    },
    { key: "visit.distinctScenes", unit: "", words: `different scenes seen in ${stayed}`, better: "more", of: ({ distinctPerVisit }) => distinctPerVisit },
    { key: "anyHour.fewestScenes", unit: "", words: "fewest scenes in any hour", better: "more", of: ({ fewestScenes }) => fewestScenes },
    { key: "lit.mean", unit: "", words: "houses lit at once, on average", better: null, of: ({ meanLit }) => meanLit },
    { key: "houses.longestDarkSeconds", unit: "s", words: "longest time that a house is dark", better: "less",
      of: ({ longestDark }) => toSeconds(longestDark) },
  ];
}
