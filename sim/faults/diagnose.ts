import type { Scenario } from "../model/scenario.js";
import { FAULT_KINDS, PACED, type Fault } from "./kinds.js";
import type { FaultTable } from "./groups.js";
import type { Light } from "./light.js";
import { listing } from "./names.js";
import { houseName } from "../model/housename.js";
import { nextLook, type NextLook } from "./next.js";
import { agrees, tellingHouses, type Observation } from "./observations.js";
import type { Suspect } from "./tally.js";
import { cautions } from "./cautions.js";
import { insteadInWords, seenInWords } from "./seeninwords.js";
import type { Micros } from "../units/time.js";

/** Faults that cannot be told apart, with what speaks for them and against them in short sentences. */
export interface Candidate {
  readonly faults: readonly Fault[];
  readonly fits: readonly string[];
  /** First the observations that do not agree, then what would be seen too but was not reported. */
  readonly against: readonly string[];
  /** How many of `against` are observations that do not agree. */
  readonly contradictions: number;
  /** How many houses would show a symptom that was not reported. */
  readonly unreported: number;
}

export interface Diagnosis {
  /** Best first. */
  readonly candidates: readonly Candidate[];
  /** True when the display would show all that was seen without any fault. */
  readonly healthy: boolean;
  /** The groups that the observations leave: those with the fewest contradictions. */
  readonly left: number;
  /** What to look at next; null when one group is left, or no look from switch-on tells the rest apart. */
  readonly next: NextLook | null;
  /** What was seen that may be chance, in sentences. */
  readonly cautions: readonly string[];
}

/** How well what a display may show goes with what was seen. */
interface Match {
  readonly light: Light;
  readonly contrary: readonly Observation[];
  readonly unreported: Unreported;
}

/**
 * Ranks what could be wrong with a display. First come the faults that contradict the fewest observations; among these,
 * the ones with the fewest symptoms that nobody reported during `watched` microseconds from switch-on; then the plainest, where a
 * board was called slow or fast what changes its pace.
 * A symptom that was not reported only ranks: it may have been overlooked, so it does not rule a fault out. Of a fault
 * that may show in several ways the one that fits best counts.
 */
export function diagnose(table: FaultTable, observations: readonly Observation[], watched: Micros): Diagnosis {
  const unreported = unreportedSymptoms(table, observations, watched);
  const paced = new Set(observations.flatMap((seen) => (seen.kind === "slow" || seen.kind === "fast" ? [table.scenario.boards[seen.board]!.id] : [])));
  // who says that a board is slow speaks of its timer before anything else that has the same look
  const plainness = ({ kind, board }: Fault): number =>
    FAULT_KINDS.indexOf(kind) - (PACED.has(kind) && board !== null && paced.has(board) ? FAULT_KINDS.length : 0);
  const ranked = table.groups
    .map(({ faults, lights }) => {
      const matches = lights.map((light): Match => ({
        light,
        contrary: observations.filter((seen) => !agrees(table, light, seen)),
        unreported: unreported(light),
      }));
      const best = matches.reduce((a, b) => (fit(a, b) <= 0 ? a : b));
      return { faults, matches, best, plainness: plainness(faults[0]!) };
    })
    .sort((a, b) => fit(a.best, b.best) || a.plainness - b.plainness);
  const fewest = ranked[0]!.best.contrary.length;
  const left: Suspect[] = ranked
    .filter(({ best }) => best.contrary.length === fewest)
    .map(({ matches }) => matches.flatMap(({ light, contrary }) => (contrary.length === fewest ? [light] : [])));
  const sentences = observations.map((seen) => seenInWords(table.scenario, seen));
  return {
    candidates: ranked.map(({ faults, best: { light, contrary, unreported } }) => ({
      faults,
      fits: sentences.filter((_, i) => !contrary.includes(observations[i]!)),
      against: [...contrary.map((seen) => insteadInWords(table, light, seen)), ...unreportedInWords(table, unreported)],
      contradictions: contrary.length,
      unreported: symptoms(unreported),
    })),
    healthy: observations.every((seen) => agrees(table, table.healthy, seen)),
    left: left.length,
    next: nextLook(table, left),
    cautions: cautions(table, observations),
  };
}

/** Negative when the first goes better with what was seen. */
function fit(a: Match, b: Match): number {
  return a.contrary.length - b.contrary.length || symptoms(a.unreported) - symptoms(b.unreported);
}

/** Houses that would stay dark, or lit, with a fault but not on a display in order, and that no observation is about. */
interface Unreported {
  readonly dark: readonly number[];
  readonly lit: readonly number[];
}

/** For a light the symptoms that it would show until `watched` and that nobody reported. */
function unreportedSymptoms({ scenario, healthy }: FaultTable, observations: readonly Observation[], watched: Micros): (light: Light) => Unreported {
  const reported = reportedHouses(scenario, observations);
  const planned = scenario.houses.map((_, house) => healthy.stays(house, watched));
  return (light) => {
    const known = reported(light);
    const found: { readonly dark: number[]; readonly lit: number[] } = { dark: [], lit: [] };
    for (const [house, stay] of planned.entries()) {
      const how = known.has(house) ? stay : light.stays(house, watched);
      if (how !== stay && how !== "changing") found[how].push(house);
    }
    return found;
  };
}

function symptoms({ dark, lit }: Unreported): number {
  return dark.length + lit.length;
}

function unreportedInWords({ scenario }: FaultTable, unreported: Unreported): string[] {
  return (["dark", "lit"] as const).flatMap((how) => {
    const names = unreported[how].map((house) => houseName(scenario, house));
    return names.length === 0 ? [] : [`${listing(names)} would stay ${how} too, which was not reported`];
  });
}

/**
 * For a light the houses of which it was reported whether they stay dark or lit. Who says that a board does not change, and
 * names no dark house, has seen some of it lit.
 */
function reportedHouses(scenario: Scenario, observations: readonly Observation[]): (light: Light) => ReadonlySet<number> {
  const named = new Set(observations.flatMap((seen) => ("board" in seen ? [] : [seen.house])));
  const frozen = observations.flatMap((seen) => (seen.kind === "frozen" ? [{ until: seen.until, houses: tellingHouses(scenario, seen.board) }] : []));
  if (frozen.length === 0) return () => named;
  return (light) => {
    const ofBoards = frozen.flatMap(({ until, houses }) => {
      const unlit = houses.every((house) => !named.has(house) && light.stays(house, until) === "dark");
      return unlit ? [] : houses;
    });
    return new Set([...named, ...ofBoards]);
  };
}
