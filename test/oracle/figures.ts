/**
 * The figures of a display straight from their definitions, by counting. Slow and plain on purpose.
 *
 * Nothing is sampled: where a definition integrates over time, the integrand only changes where a spell begins or ends
 * at the moment itself or at the moment looked at later, so time is cut at all those moments and the middle of every
 * piece is looked at. There is no discretisation error, only the rounding of sums of whole microseconds.
 */
import { cycleLength } from "./counters.js";
import { housesLit } from "./loop.js";
import type { Shown, Spell } from "./loop.js";
import type { Spec } from "./spec.js";

const second = 1_000_000;

export interface SceneFigures {
  distinct: number;
  combinations: number | null;
  changes: number;
  changesPerHour: number;
  sameAtRandom: number;
  effective: number;
  even: number;
  shortestSeconds: number;
  medianSeconds: number;
  longestSeconds: number;
}

/** Figures of the scenes. */
export function sceneFigures(spec: Spec, shown: Shown): SceneFigures {
  const spells = allSpells(shown);
  const total = openTime(shown);
  const time = new Map<string, number>();
  for (const spell of spells) time.set(nameOf(spell), (time.get(nameOf(spell)) ?? 0) + length(spell));
  const shares = [...time.values()].map((part) => part / total);
  const changes = sum(shown.openings.map((opening) => opening.spells.length - 1));
  const lengths = spells.map((spell) => length(spell) / second).sort((a, b) => a - b);
  const sameAtRandom = sum(shares.map((p) => p * p));
  return {
    distinct: time.size,
    combinations: combinations(spec),
    changes,
    changesPerHour: changes / (total / (3600 * second)),
    sameAtRandom,
    effective: 1 / sameAtRandom,
    even: Math.exp(-sum(shares.map((p) => p * Math.log(p)))),
    shortestSeconds: lengths[0]!,
    medianSeconds: (lengths[Math.floor((lengths.length - 1) / 2)]! + lengths[Math.ceil((lengths.length - 1) / 2)]!) / 2,
    longestSeconds: lengths.at(-1)!,
  };
}

/** Different scenes over all combinations of positions, whether the boards ever stand so together or not. */
function combinations(spec: Spec): number | null {
  if (spec.boards.reduce((product, board) => product * cycleLength(board.counter), 1) > 1_000_000) return null;
  let scenes = new Set([0]);
  for (const board of spec.boards) {
    const bits = [...Array(cycleLength(board.counter)).keys()].map((step) =>
      sum([...housesLit(spec, board, step)].map((house) => 2 ** house)),
    );
    scenes = new Set([...scenes].flatMap((scene) => bits.map((more) => scene | more)));
  }
  return scenes.size;
}

export interface HouseFigures {
  id: string;
  litShare: number;
  lightings: number;
  longestDarkSeconds: number;
  longestLitSeconds: number;
}

/** Figures of each house, in the order of the houses. A house never dark has a longest dark spell of 0, and the same for lit. */
export function houseFigures(spec: Spec, shown: Shown): HouseFigures[] {
  return spec.houses.map((house, index) => {
    let lit = 0;
    let lightings = 0;
    const longest = { lit: 0, dark: 0 };
    for (const { spells } of shown.openings) {
      let running = 0;
      spells.forEach((spell, i) => {
        const isLit = spell.lit.includes(index);
        const wasLit = i > 0 && spells[i - 1]!.lit.includes(index);
        if (isLit) lit += length(spell);
        if (i > 0 && isLit && !wasLit) lightings++;
        running = i > 0 && isLit === wasLit ? running + length(spell) : length(spell);
        const state = isLit ? "lit" : "dark";
        longest[state] = Math.max(longest[state], running);
      });
    }
    return {
      id: house.id,
      litShare: lit / openTime(shown),
      lightings,
      longestDarkSeconds: longest.dark / second,
      longestLitSeconds: longest.lit / second,
    };
  });
}

/** Share of open time with at least one house of the zone lit, by zone. */
export function zoneShares(spec: Spec, shown: Shown): Map<string, number> {
  const shares = new Map<string, number>();
  for (const { zone } of spec.houses) {
    if (zone === undefined) continue;
    const withLight = allSpells(shown).filter((spell) => spell.lit.some((house) => spec.houses[house]!.zone === zone));
    shares.set(zone, sum(withLight.map(length)) / openTime(shown));
  }
  return shares;
}

export interface LitFigures {
  min: number;
  max: number;
  mean: number;
  /** shares[n]: share of open time with exactly n houses lit, n from 0 to the number of houses */
  shares: number[];
}

/** Figures of how many houses are lit at once. */
export function litFigures(spec: Spec, shown: Shown): LitFigures {
  const spells = allSpells(shown);
  const counts = spells.map((spell) => spell.lit.length);
  const shares = Array.from({ length: spec.houses.length + 1 }, (_, n) => {
    return sum(spells.filter((spell) => spell.lit.length === n).map(length)) / openTime(shown);
  });
  return {
    min: counts.reduce((a, b) => Math.min(a, b)),
    max: counts.reduce((a, b) => Math.max(a, b)),
    mean: sum(spells.map((spell) => spell.lit.length * length(spell))) / openTime(shown),
    shares,
  };
}

/**
 * Of the moments that are open both then and `afterSeconds` later, the share that shows the same scene both times;
 * null when there is no such moment.
 */
export function repeatShare(shown: Shown, afterSeconds: number): number | null {
  const after = Math.round(afterSeconds * second);
  const spells = allSpells(shown);
  const cuts = sorted(spells.flatMap((spell) => [spell.from, spell.until, spell.from - after, spell.until - after]));
  const sceneAt = lookup(spells);
  let both = 0;
  let same = 0;
  for (let i = 0; i + 1 < cuts.length; i++) {
    const width = cuts[i + 1]! - cuts[i]!;
    const middle = cuts[i]! + width / 2;
    const now = sceneAt(middle);
    const later = sceneAt(middle + after);
    if (now === null || later === null) continue;
    both += width;
    if (now === later) same += width;
  }
  return both === 0 ? null : same / both;
}

export interface VisitFigures {
  distinctScenes: number;
  changesSeen: number;
  repeatShare: number;
}

/** What visitors who stay `staySeconds` see, over all arrivals that leave before closing; null when nobody can stay so long. */
export function visitFigures(shown: Shown, staySeconds: number): VisitFigures | null {
  const stay = Math.round(staySeconds * second);
  let arrivals = 0;
  let distinct = 0;
  let changes = 0;
  let repeats = 0;
  for (const opening of shown.openings) {
    const latest = opening.until - stay;
    const cuts = sorted([
      opening.from,
      latest,
      ...opening.spells.flatMap((spell) => [spell.until, spell.until - stay]),
    ]).filter((cut) => cut >= opening.from && cut <= latest);
    let first = 0;
    for (let i = 0; i + 1 < cuts.length; i++) {
      const width = cuts[i + 1]! - cuts[i]!;
      const arrival = cuts[i]! + width / 2;
      while (opening.spells[first]!.until <= arrival) first++;
      const seen: string[] = [];
      for (let s = first; s < opening.spells.length && opening.spells[s]!.from < arrival + stay; s++) {
        seen.push(nameOf(opening.spells[s]!));
      }
      const different = new Set(seen).size;
      arrivals += width;
      distinct += different * width;
      changes += (seen.length - 1) * width;
      if (different < seen.length) repeats += width;
    }
  }
  if (arrivals === 0) return null;
  return { distinctScenes: distinct / arrivals, changesSeen: changes / arrivals, repeatShare: repeats / arrivals };
}

/**
 * Fewest different scenes in any [t, t + 60 min) inside one opening; null when every opening is shorter. The window is
 * looked at wherever it begins with a spell or ends with one: sliding it off such a place can only add a scene.
 */
export function fewestScenesInAnyHour(shown: Shown): number | null {
  const window = 3600 * second;
  let fewest: number | null = null;
  for (const { from, until, spells } of shown.openings) {
    const starts = sorted(spells.flatMap((spell) => [spell.from, spell.until - window]));
    let first = 0;
    for (const start of starts.filter((moment) => moment >= from && moment + window <= until)) {
      while (spells[first]!.until <= start) first++;
      const seen = new Set<string>();
      for (let s = first; s < spells.length && spells[s]!.from < start + window; s++) seen.add(nameOf(spells[s]!));
      fewest = fewest === null ? seen.size : Math.min(fewest, seen.size);
    }
  }
  return fewest;
}

function allSpells(shown: Shown): Spell[] {
  return shown.openings.flatMap((opening) => opening.spells);
}

function openTime(shown: Shown): number {
  return sum(shown.openings.map((opening) => opening.until - opening.from));
}

/** The scene at a moment, null while closed. Spells are in order and never overlap. */
function lookup(spells: Spell[]): (moment: number) => string | null {
  const names = spells.map(nameOf);
  return (moment) => {
    let low = 0;
    let high = spells.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (spells[middle]!.until <= moment) low = middle + 1;
      else high = middle;
    }
    return low < spells.length && spells[low]!.from <= moment ? names[low]! : null;
  };
}

function nameOf(spell: Spell): string {
  return spell.lit.join(" ");
}

function length(spell: Spell): number {
  return spell.until - spell.from;
}

function sum(numbers: number[]): number {
  return numbers.reduce((total, one) => total + one, 0);
}

function sorted(moments: number[]): number[] {
  return moments.sort((a, b) => a - b);
}
