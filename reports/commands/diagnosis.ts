import { houseName, seenInWords, type Candidate, type Diagnosis, type Observation } from "../../sim/faults/index.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { displayOffSeconds } from "../../sim/timers/switchoff.js";
import { duration } from "../../sim/units/quantities.js";
import { listed, spokenDuration } from "../../sim/units/text.js";
import type { Told } from "../json/print.js";
import { toSeconds } from "../../sim/units/time.js";

/** Candidates that the text spells out at most: those that explain everything, or where none does the nearest. The JSON has them all. */
const TOLD = { fitting: 8, nearest: 3 };

/** A diagnosis as the command prints it for programs; seconds after switch-on. */
export function diagnosisAsJson({ houses, boards }: Scenario, { candidates, healthy, left, next, cautions }: Diagnosis, watched: number, known: boolean): Told<"fault"> {
  return {
    watchedSeconds: toSeconds(watched),
    watchedKnown: known,
    healthy,
    left,
    cautions,
    candidates: candidates.map(({ faults, fits, against }) => ({
      faults: faults.map(({ kind, board, where, text }) => ({ kind, board, where, text })),
      fits,
      against,
    })),
    next:
      next === null
        ? null
        : {
            house: houses[next.house]!.id,
            seconds: toSeconds(next.until),
            look: next.kind,
            board: next.board === null ? null : boards[next.board]!.id,
            whileLit: next.whileLit === null ? null : houses[next.whileLit]!.id,
            certain: next.certain,
          },
  };
}

/** A diagnosis for somebody who stands before the display. */
export function diagnosisAsText(scenario: Scenario, seen: readonly Observation[], found: Diagnosis): string {
  const { candidates, healthy, left, cautions } = found;
  const best = candidates[0]!;
  const most = best.contradictions === 0 ? TOLD.fitting : TOLD.nearest;
  const told = candidates.slice(0, Math.min(most, left));
  const more = left - most;
  return [
    scenario.title,
    `Seen: ${togetherInWords(scenario, seen)}.`,
    ...cautions,
    ...(healthy ? ["A display in order would show all this, too."] : []),
    ...singleFaultCaution(best),
    "",
    ...told.flatMap((candidate, i) => candidateLines(candidate, i, seen.length)),
    ...(more > 0 ? [`… and ${more} more of the same rank; --json lists all.`] : []),
    "",
    ...(left > 1
      ? [`${left} possibilities ${best.contradictions === 0 ? "explain all that was seen" : "come nearest to what was seen"}.`]
      : []),
    nextInWords(scenario, found),
  ].join("\n");
}

/** What was seen, with houses that stayed alike told together. */
function togetherInWords(scenario: Scenario, seen: readonly Observation[]): string {
  const parts = new Map<string, { one: Observation; names: string[] }>();
  for (const one of seen) {
    const plain = (one.kind === "dark" || one.kind === "lit") && one.whileLit === null;
    const key = plain ? `${one.kind} ${one.until}` : JSON.stringify(one);
    const part = parts.get(key) ?? { one, names: [] };
    if ("house" in one) part.names.push(houseName(scenario, one.house));
    parts.set(key, part);
  }
  return Array.from(parts.values(), ({ one, names }) => {
    if (names.length < 2 || !("until" in one)) return seenInWords(scenario, one);
    return `${listed(names)} stay ${one.kind}, for ${duration.format(toSeconds(one.until))} from switch-on`;
  }).join("; ");
}

/** What to think of when no single fault fits as it should. */
function singleFaultCaution({ contradictions, unreported }: Candidate): string[] {
  if (contradictions > 0) return ["No single fault explains all of it; the nearest come first. Look again, or look for two faults."];
  if (unreported > 0) return ["Every single fault that explains it would show more than was reported. Look again, or look for two faults."];
  return [];
}

function candidateLines({ faults, against, contradictions, fits }: Candidate, i: number, seen: number): string[] {
  const [first, ...others] = faults;
  const contrary = against.slice(0, contradictions);
  const unreported = against.slice(contradictions);
  return [
    `${i + 1}. ${first!.text}`,
    ...others.map(({ text }) => `   Or: ${text}`),
    contradictions === 0 ? "   Fits all that was seen." : `   Fits ${fits.length} of ${seen} observations, but ${contrary.join("; ")}.`,
    ...unreported.map((what) => `   But ${what}.`),
  ];
}

function nextInWords(scenario: Scenario, { next, left }: Diagnosis): string {
  if (next === null && left === 1) return "Nothing more to look at: what is left looks the same. The fault-finding card of the board " +
    "says what to touch (lampdrift cards)."; 
  if (next === null) {
    const wait = spokenDuration(displayOffSeconds(scenario));
    return `No look tells them apart this time. Switch off for ${wait} and on again, and note afresh what you see: a board without ` +
      "clock pulses wakes at another step.";
  }
  const id = scenario.houses[next.house]!.id;
  const name = houseName(scenario, next.house);
  const time = duration.format(toSeconds(next.until));
  const option = (kind: string, more = ""): string => `--${kind} "${id}@${time}${more}"`;
  const caution = next.certain ? "" : " This counts only if the boards woke as they do in the simulation.";
  if (next.kind === "moment") {
    return `Next: look at ${name} ${time} after switch-on. Lit: add ${option("lit-at")}; dark: ${option("dark-at")}.${caution}`;
  }
  if (next.kind === "times") {
    return `Next: watch ${name} for ${time} from switch-on, and count how often it comes on (lit at switch-on counts as once): add ` +
      `${option("times", "=N")}.${caution}`;
  }
  if (next.board !== null) {
    const board = scenario.boards[next.board]!.id;
    const pace = (kind: string): string => `--${kind} "${board}@${time}"`;
    return (
      `Next: watch the houses of board ${board} for ${time} from switch-on, and time how long its steps last. As planned: add ` +
        `${pace("on-pace")}; ` +
      `longer: ${pace("slow")}; shorter: ${pace("fast")}.${caution}`
    );
  }
  if (next.whileLit === null) {
    return `Next: watch ${name} for ${time} from switch-on. Dark all the time: add ${option("dark")}; lit all the time: ` +
      `${option("lit")}; both seen: ${option("changing")}.${caution}`;
  }
  const other = scenario.houses[next.whileLit]!;
  const meanwhile = ` while ${other.id}`;
  const otherName = houseName(scenario, next.whileLit);
  return (
    `Next: for ${time} from switch-on, look at ${name} whenever ${otherName} is lit. Then always dark: add ${option("dark", meanwhile)}; ` +
    `always lit: ${option("lit", meanwhile)}; both seen: ${option("changing", meanwhile)}; ${otherName} never lit: --dark ` +
      `"${other.id}@${time}".${caution}`
  );
}
