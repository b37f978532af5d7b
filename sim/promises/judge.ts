import type { Promised } from "../model/scenario.js";
import type { Measures } from "./measures.js";
import { stalledBoards, type BoardSteps } from "../steptimes/index.js";

/** How a promise came out: numbers alone, in the unit of the promise. */
export interface Verdict {
  readonly kept: boolean;
  /**
   * The worst that was found: what goes furthest beyond its limit or, where nothing does, comes nearest to it. Null
   * where there is nothing to look at, such as openings too short for the stay; such a promise is kept.
   */
  readonly value: number | null;
  readonly limit: number;
}

/** What a promise is judged on. */
export interface Evidence {
  readonly steps: readonly BoardSteps[];
  /** Not looked at for the promise `step`, nor where a timer stalls: may be a getter that simulates. */
  readonly measures: Measures;
}

/**
 * Judges one promise. A build in which a timer stalls breaks every promise: what stands still is no display, whatever
 * it happens to show; its value is then null.
 */
export function judge(promised: Promised, evidence: Evidence): Verdict {
  const { steps } = evidence;
  if (stalledBoards(steps).length > 0) return { kept: false, value: null, limit: limitOf(promised) };
  return promised.kind === "step" ? judgeSteps(promised, steps) : judgeRecord(promised, evidence.measures);
}

/** Judges what can be seen in a record. */
function judgeRecord(promised: Exclude<Promised, { kind: "step" }>, measures: Measures): Verdict {
  switch (promised.kind) {
    case "sceneLasts": {
      const { shortestWhole, longest } = measures.spells;
      return within(promised, shortestWhole === null ? null : shortestWhole / 1e6, longest / 1e6);
    }
    case "litHouses": {
      let least = Infinity;
      let most = 0;
      for (const { length } of measures.record.scenes) {
        least = Math.min(least, length);
        most = Math.max(most, length);
      }
      return within(promised, least, most);
    }
    case "darkSpell":
      return atMost(promised.atMost, measures.longestDark / 1e6);
    case "anyHour":
      return atLeast(promised.atLeast, measures.fewestScenes);
    case "effectiveScenes":
      return atLeast(promised.atLeast, 1 / measures.sameAtRandom);
    case "repeatOnReturn":
      return atMost(promised.atMost, measures.repeatAfter(promised.after));
    case "repeatWithinStay":
      return atMost(promised.atMost, measures.repeatWithin(promised.stay));
    case "zoneLit":
      return atLeast(promised.atLeast, measures.zoneShare(promised.zone));
    case "ratings": {
      const rows = measures.ratings;
      const share = rows.reduce((most, row) => Math.max(most, row.share), 0);
      return { kept: rows.every(({ verdict }) => verdict !== "over"), value: share, limit: 1 };
    }
  }
}

function judgeSteps(promised: Extract<Promised, { kind: "step" }>, steps: readonly BoardSteps[]): Verdict {
  const shortest = Math.min(...steps.map((board) => board.shortest.seconds));
  const longest = Math.max(...steps.map((board) => board.longest.seconds));
  return within(promised, shortest, longest);
}

function atMost(limit: number, value: number | null): Verdict {
  return { kept: value === null || value <= limit, value, limit };
}

function atLeast(limit: number, value: number | null): Verdict {
  return { kept: value === null || value >= limit, value, limit };
}

/** Both ends of a range; the one that is further beyond, or less far inside, is told. */
function within({ from, to }: { from: number | null; to: number | null }, least: number | null, most: number): Verdict {
  const low = from === null ? null : atLeast(from, least);
  const high = to === null ? null : atMost(to, most);
  if (low === null || high === null) return (low ?? high)!;
  if (low.value === null) return high;
  return low.limit - low.value > high.value! - high.limit ? low : high;
}

function limitOf(promised: Promised): number {
  if ("atMost" in promised) return promised.atMost;
  if ("atLeast" in promised) return promised.atLeast;
  return "from" in promised ? (promised.to ?? promised.from)! : 1;
}
