import type { Promised } from "../model/scenario.js";
import { plain, spokenDuration } from "../units/text.js";
import { firstDarkBeyond } from "./dark.js";
import { firstDullHour } from "./hours.js";
import type { Evidence } from "./judge.js";
import { firstSpell } from "./spells.js";
import { stalledBoards, type BoardSteps, type StepExtreme } from "../steptimes/index.js";
import { valueText } from "./text.js";

/** When and where a promise is first broken. */
export interface Break {
  /** Microseconds since the first Monday 00:00; null where no moment of the calendar matters. */
  readonly at: number | null;
  readonly what: string;
}

/** When and where a broken promise is broken first; null for promises about the whole run, which have no such place. */
export function firstBreak(promised: Promised, evidence: Evidence): Break | null {
  const { steps } = evidence;
  const stalled = stalledBoards(steps);
  if (stalled.length > 0) return { at: null, what: `the timer of board ${stalled.join(", ")} stalls` };
  switch (promised.kind) {
    case "step":
      return firstStep(promised, steps);
    case "sceneLasts": {
      const { from, to } = promised;
      const found = firstSpell(
        evidence.measures.record,
        (length, cut) => (to !== null && length / 1e6 > to) || (!cut && from !== null && length / 1e6 < from),
      );
      if (found === null) return null;
      const lasts = found.length / 1e6;
      const limit = to !== null && lasts > to ? to : from;
      return { at: found.start, what: `the scene lasts ${valueText(lasts, limit, "s")}; ${lit(evidence, found.scene)}` };
    }
    case "litHouses":
      return firstCount(promised, evidence);
    case "darkSpell": {
      const { record } = evidence.measures;
      const found = firstDarkBeyond(record, promised.atMost);
      if (found === null) return null;
      const { id } = record.scenario.houses[found.house]!;
      return { at: found.start, what: `house ${id} is dark for ${valueText(found.length / 1e6, promised.atMost, "s")}` };
    }
    case "anyHour": {
      const found = firstDullHour(evidence.measures.line, promised.atLeast);
      return found && { at: found.start, what: `the hour from then on shows ${found.scenes} different scenes` };
    }
    case "ratings": {
      const over = evidence.measures.ratings.find(({ verdict }) => verdict === "over");
      return over === undefined ? null : { at: over.worst?.at ?? null, what: `${over.what}, ${over.where}` };
    }
    case "effectiveScenes":
    case "repeatOnReturn":
    case "repeatWithinStay":
    case "zoneLit":
      return null;
  }
}

function firstStep({ from, to }: { from: number | null; to: number | null }, steps: readonly BoardSteps[]): Break | null {
  for (const { id, shortest, longest } of steps) {
    if (to !== null && longest.seconds > to) return { at: null, what: `board ${id}: ${stepText(longest, to)}` };
    if (from !== null && shortest.seconds < from) return { at: null, what: `board ${id}: ${stepText(shortest, from)}` };
  }
  return null;
}

/** "4 min 2 s at 19 °C after 210 h of power". */
function stepText({ seconds, theta, hours }: StepExtreme, limit: number): string {
  const warmth = theta === null ? "" : ` at ${plain(theta, 3)} °C`;
  const age = hours === null ? "" : ` after ${spokenDuration(hours * 3600)} of power`;
  return `${valueText(seconds, limit, "s")}${warmth}${age}`;
}

function firstCount({ from, to }: { from: number | null; to: number | null }, evidence: Evidence): Break | null {
  const { record } = evidence.measures;
  const i = record.spellScene.findIndex((scene) => {
    const { length } = record.scenes[scene]!;
    return (from !== null && length < from) || (to !== null && length > to);
  });
  return i < 0 ? null : { at: record.spellStart[i]!, what: lit(evidence, record.spellScene[i]!) };
}

const MOST_NAMED = 8;

/** "lit: bakery, inn". */
function lit({ measures: { record } }: Evidence, scene: number): string {
  const houses = record.scenes[scene]!;
  if (houses.length === 0) return "no house is lit";
  const named = houses.slice(0, MOST_NAMED).map((house) => record.scenario.houses[house]!.id);
  const rest = houses.length > named.length ? ` and ${houses.length - named.length} more` : "";
  return `lit: ${named.join(", ")}${rest}`;
}
