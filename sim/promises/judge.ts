import type { Promised } from "../model/scenario.js";
import { kindOf } from "./kinds/index.js";
import type { Break, Evidence, Outcome } from "./kinds/kind.js";

/**
 * Judges one promise. A build in which a timer stalls breaks every promise: what stands still is no display, whatever
 * it happens to show; its value is then null.
 */
export function judge(promised: Promised, evidence: Evidence): Outcome {
  const kind = kindOf(promised);
  if (evidence.stalled.length > 0) return { kept: false, value: null, limit: kind.limit(promised) };
  return kind.judge(promised, evidence);
}

/** Whether a promise is kept, as {@link judge} says, without the trace that the value of ratings takes where they hold anyway. */
export function isKept(promised: Promised, evidence: Evidence): boolean {
  if (promised.kind === "ratings" && evidence.ratingsHold) return evidence.stalled.length === 0;
  return judge(promised, evidence).kept;
}

/** When and where a broken promise is broken first; null for promises about the whole run, which have no such place. */
export function firstBreak(promised: Promised, evidence: Evidence): Break | null {
  const { stalled } = evidence;
  if (stalled.length > 0) return { at: null, what: `the timer of board ${stalled.join(", ")} stalls` };
  return kindOf(promised).firstBreak(promised, evidence);
}
