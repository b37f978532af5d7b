import type { OpeningRecord } from "../engine/record.js";
import type { Visitors } from "../model/scenario.js";
import { FollowedCurve } from "./followed.js";
import type { Timeline } from "./timeline.js";
import { type Micros, MINUTE, type Seconds, toSeconds } from "../units/time.js";

/**
 * What visitors see who arrive at any moment that lets them stay to the end inside one opening. All but `staySeconds`
 * are null when no opening is longer than the stay.
 */
export interface VisitFigures {
  readonly staySeconds: Seconds;
  /** Different scenes seen, mean over arrivals. */
  readonly distinctScenes: number | null;
  /** Scene changes seen, mean over arrivals. */
  readonly changesSeen: number | null;
  /** Share of arrivals who see one scene in two different spells before they leave. */
  readonly repeatShare: number | null;
  /** The same share for stays of 1 min, 2 min … 2 h. */
  readonly repeatCurve: readonly StayPoint[];
}

/** Of those who stay so long, the share who see a scene come back; null where no opening is so long. */
export interface StayPoint {
  readonly staySeconds: Seconds;
  readonly share: number | null;
}

const CURVE_STEP = MINUTE;
const CURVE_POINTS = 120;

/** Figures of a visit of the scenario's length. Cost: a few steps a spell. */
export function visitFigures(line: Timeline, { stay }: Pick<Visitors, "stay">): VisitFigures {
  return {
    staySeconds: toSeconds(stay),
    distinctScenes: distinctPerVisit(line, stay),
    changesSeen: perArrival(line, stay, changesSeen(line, stay)),
    repeatShare: repeatWithin(line, stay),
    repeatCurve: stayCurve(line),
  };
}

/** Different scenes seen in a stay (microseconds), mean over arrivals; null as above. */
export function distinctPerVisit(line: Timeline, stay: Micros): number | null {
  return perArrival(line, stay, scenesSeen(line, stay));
}

function perArrival(line: Timeline, stay: Micros, total: number): number | null {
  const arrivals = arrivalTime(line, stay);
  return arrivals === 0 ? null : total / arrivals;
}

/** Share of arrivals who see one scene in two different spells while they stay (microseconds); null as above. */
export function repeatWithin(line: Timeline, stay: Micros): number | null {
  let repeats = 0;
  eachFirstRepeat(line, (from, until, repeat, closing) => {
    repeats += Math.max(0, Math.min(until, closing - stay) - Math.max(from, repeat - stay));
  });
  return perArrival(line, stay, repeats);
}

/** {@link repeatWithin} for stays of 1 min, 2 min … 2 h, in one pass for all of them. */
export function stayCurve(line: Timeline): StayPoint[] {
  const repeats = new FollowedCurve(CURVE_STEP, CURVE_POINTS);
  // An arrival sees the repeat when it leaves between the moment of the repeat and closing
  eachFirstRepeat(line, (from, until, repeat, closing) => repeats.add(from, until, repeat, closing));
  const arrivals = new FollowedCurve(CURVE_STEP, CURVE_POINTS);
  for (const { from, until } of line.openings) arrivals.add(from, until, from, until);
  const seen = repeats.values();
  const all = arrivals.values();
  return Array.from({ length: CURVE_POINTS }, (_, i) => ({
    staySeconds: toSeconds((i + 1) * CURVE_STEP),
    share: all[i + 1] === 0 ? null : seen[i + 1]! / all[i + 1]!,
  }));
}

/**
 * Cuts each opening into stretches of arrival with one and the same first repeat: whoever arrives in [from, until)
 * sees, if staying on, at `repeat` a scene come back that an earlier spell showed after the arrival. Whoever arrives
 * later than the last stretch of an opening sees none before `closing`.
 *
 * A spell whose scene was last shown until e is a repeat for all who arrived before e; going through the spells in
 * order, those who had none yet are the ones who arrived after the latest such e so far.
 */
function eachFirstRepeat(line: Timeline, visit: (from: Micros, until: Micros, repeat: number, closing: Micros) => void): void {
  const shownUntil = new Float64Array(line.scenes).fill(-Infinity);
  for (const opening of line.openings) {
    let settled = opening.from;
    for (let i = opening.first; i < opening.end; i++) {
      const scene = line.scene[i]!;
      const gone = shownUntil[scene]!;
      shownUntil[scene] = line.until[i]!;
      if (gone <= settled) continue;
      visit(settled, gone, line.from[i]!, opening.until);
      settled = gone;
    }
  }
}

/** Scene changes seen, summed over arrivals: each change by those who arrive up to a stay before it. */
function changesSeen(line: Timeline, stay: Micros): number {
  let total = 0;
  for (const opening of line.openings) {
    for (let i = opening.first + 1; i < opening.end; i++) {
      const change = line.from[i]!;
      total += arrivalsIn(opening, stay, change - stay, change);
    }
  }
  return total;
}

/** Different scenes seen, summed over arrivals: each scene by those who meet any of its spells. */
function scenesSeen(line: Timeline, stay: Micros): number {
  /** Arrivals before this moment that meet the scene are counted already. */
  const counted = new Float64Array(line.scenes).fill(-Infinity);
  let total = 0;
  for (const opening of line.openings) {
    for (let i = opening.first; i < opening.end; i++) {
      const scene = line.scene[i]!;
      const gone = line.until[i]!;
      total += arrivalsIn(opening, stay, Math.max(line.from[i]! - stay, counted[scene]!), gone);
      counted[scene] = gone;
    }
  }
  return total;
}

/** Length of all arrival times together that let a visitor stay so long. */
function arrivalTime({ openings }: Timeline, stay: Micros): number {
  return openings.reduce((sum, opening) => sum + arrivalsIn(opening, stay, opening.from, opening.until), 0);
}

/** For how long, between these moments, visitors can arrive who stay so long. */
function arrivalsIn({ from, until }: OpeningRecord, stay: Micros, earliest: Micros, latest: Micros): number {
  return Math.max(0, Math.min(latest, until - stay) - Math.max(earliest, from));
}
