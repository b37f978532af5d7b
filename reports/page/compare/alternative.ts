import type { Figures } from "../../../sim/figures/index.js";
import type { Bill, Drawn } from "../../../sim/compare/index.js";
import type { PromiseResult } from "../../../sim/promises/index.js";
import type { Rating } from "../../../sim/ratings/index.js";
import type { Scenario } from "../../../sim/model/scenario.js";

/** One of the alternatives, with everything that was found out about it. */
export interface Alternative {
  /** What it is called in tables: A, B, C … */
  readonly letter: string;
  readonly scenario: Scenario;
  /** Of the nominal build. */
  readonly figures: Figures;
  readonly promises: readonly PromiseResult[];
  readonly ratings: readonly Rating[];
  readonly bill: Bill;
  readonly drawn: Drawn;
}

/** A promise that some alternative makes: how each keeps it; null where it is not made. */
export interface PromiseRow {
  readonly text: string;
  readonly cells: readonly ({ readonly nominal: boolean; readonly kept: number; readonly builds: number } | null)[];
}

/** The promises of all alternatives, each once, in order of first appearance. */
export function promiseRows(alternatives: readonly Alternative[]): PromiseRow[] {
  const texts = [...new Set(alternatives.flatMap(({ promises }) => promises.map(({ text }) => text)))];
  return texts.map((text) => ({
    text,
    cells: alternatives.map(({ promises, drawn }) => {
      const i = promises.findIndex((promise) => promise.text === text);
      if (i < 0) return null;
      return { nominal: promises[i]!.kept, kept: drawn.promises[i]!.kept, builds: drawn.promises[i]!.builds };
    }),
  }));
}

/** How one alternative keeps one promise, in words. */
export function promiseCell(cell: PromiseRow["cells"][number]): string {
  return cell === null ? "not made" : `${cell.nominal ? "kept" : "broken"}; ${cell.kept} of ${cell.builds} builds`;
}

/** The fullest rating, and how many are over or close to their limit. */
export function ratingsInWords(ratings: readonly Rating[]): string {
  const over = ratings.filter(({ verdict }) => verdict === "over").length;
  const close = ratings.filter(({ verdict }) => verdict === "close").length;
  if (over > 0) return `${over} over${close > 0 ? `, ${close} close` : ""}`;
  return close > 0 ? `${close} close to the limit` : "all within";
}
