import type { Scenario } from "../model/scenario.js";
import { spokenDuration } from "../units/text.js";
import type { Light } from "./light.js";
import { listing } from "./names.js";
import { houseName } from "../model/housename.js";
import { stayOf, tellingHouses, type Observation, type Sound } from "./observations.js";
import { pace } from "./pace.js";
import { type Micros, toSeconds } from "../units/time.js";

type StayObservation = Extract<Observation, { whileLit: number | null }>;

/** "Inn stays dark for 40 min from switch-on". */
export function seenInWords(scenario: Scenario, seen: Observation): string {
  const name = (house: number): string => houseName(scenario, house);
  switch (seen.kind) {
    case "dark":
    case "lit":
    case "changing":
      return `${stayInWords(name, seen, seen.kind)}, ${spanInWords(seen.until)}`;
    case "times":
      return `${name(seen.house)} comes on ${timesInWords(seen.times)}, ${spanInWords(seen.until)}`;
    case "dark-at":
    case "lit-at":
      return `${name(seen.house)} is ${seen.kind === "lit-at" ? "lit" : "dark"} ${momentInWords(seen.at)}`;
    case "frozen":
      return `no house of board ${scenario.boards[seen.board]!.id} changes, ${spanInWords(seen.until)}`;
    case "slow":
    case "fast":
    case "on-pace":
      return `the houses of board ${scenario.boards[seen.board]!.id} change ${PACE_WORDS[seen.kind]} planned, ${spanInWords(seen.until)}`;
  }
}

const PACE_WORDS = { slow: "less often than", fast: "more often than", "on-pace": "as often as" } as const;

/** What one would see instead, for an observation that does not agree: "Inn would be lit 2 min 50 s after switch-on". */
export function insteadInWords({ scenario }: Sound, light: Light, seen: Observation): string {
  const name = (house: number): string => houseName(scenario, house);
  switch (seen.kind) {
    case "dark":
    case "lit":
    case "changing":
      return insteadOfStay(name, light, seen);
    case "times":
      return `${name(seen.house)} would come on ${timesInWords(light.timesOn(seen.house, seen.until))}, ${spanInWords(seen.until)}`;
    case "dark-at":
    case "lit-at":
      return `${name(seen.house)} would be ${seen.kind === "lit-at" ? "dark" : "lit"} ${momentInWords(seen.at)}`;
    case "frozen": {
      const moving = tellingHouses(scenario, seen.board).filter((house) => light.stays(house, seen.until) === "changing");
      return `${listing(moving.map(name))} would change`;
    }
    case "slow":
    case "fast":
    case "on-pace": {
      const now = pace(light, tellingHouses(scenario, seen.board), seen.until);
      const board = `board ${scenario.boards[seen.board]!.id}`;
      if (now === null) return `the houses of ${board} would hardly change`;
      return `the houses of ${board} would change every ${spokenDuration(toSeconds(now))}`;
    }
  }
}

function insteadOfStay(name: (house: number) => string, light: Light, seen: StayObservation): string {
  const { house, until, whileLit } = seen;
  const stay = stayOf(light, seen);
  if (whileLit === null && seen.kind === "dark") return `${name(house)} would be lit ${momentInWords(light.firstLit(house))}`;
  if (whileLit === null && seen.kind === "lit") return `${name(house)} would be dark ${momentInWords(light.firstDark(house))}`;
  if (stay === "never") return `${name(whileLit!)} would not be lit at all, ${spanInWords(until)}`;
  return `${stayInWords(name, seen, stay, "would ")}, ${spanInWords(until)}`;
}

/** "Inn stays dark", "Inn is dark whenever Bakery is lit", or with "would": "Inn would stay dark". */
function stayInWords(name: (house: number) => string, { house, whileLit }: StayObservation, stay: "dark" | "lit" | "changing", would: "" | "would " = ""): string {
  const be = would === "" ? "is" : "would be";
  if (whileLit === null) {
    return stay === "changing"
      ? `${name(house)} ${be} seen both dark and lit`
      : `${name(house)} ${would === "" ? "stays" : "would stay"} ${stay}`;
  }
  return stay === "changing"
    ? `${name(house)} ${be} seen both dark and lit while ${name(whileLit)} is lit`
    : `${name(house)} ${be} ${stay} whenever ${name(whileLit)} is lit`;
}

/** "for 40 min from switch-on". */
function spanInWords(until: Micros): string {
  return `for ${spokenDuration(toSeconds(until))} from switch-on`;
}

function momentInWords(at: Micros): string {
  return at === 0 ? "at switch-on" : `${spokenDuration(toSeconds(at))} after switch-on`;
}

function timesInWords(times: number): string {
  return times === 0 ? "never" : times === 1 ? "once" : `${times} times`;
}
