import { PART_NAMES, type PartName, type Parts } from "./parts.js";

/** How much each part counts. */
export type Weights = Readonly<Record<PartName, number>>;

/** In the order of arrangements, a part that is noticeably worse than today weighs more than any score. */
const WORSE = 10;
/** What nobody notices, as a share of the scale of a part. */
const UNNOTICED = 0.01;
/** On the way it costs its loss so many times over: a slope that leads back, where a wall would shut the search in. */
const LOSS = 10;
/** A part that could be better and is not costs a little, so that all are looked after. */
const NO_BETTER = 0.02;

/** What the parts are held against, so that they can be added up. */
export interface Scales {
  /** Largest values that the parts can sensibly have. */
  readonly most: Parts;
  /** The lowest that they could be at all, whatever the arrangement. */
  readonly least: Parts;
}

/** A part between 0 and about 1: as a share of the largest it can sensibly be; the chance of the same scene by its logarithm. */
function graded(name: PartName, value: number, { most, least }: Scales): number {
  if (name !== "sameAtRandom") return value / most[name];
  const best = least.sameAtRandom;
  return best >= 1 ? 0 : Math.log(value / best) / Math.log(1 / best);
}

/** The score of an arrangement: its parts, each between 0 and about 1, in their weighed mean; lower is better. */
export function scoreOf(parts: Parts, scales: Scales, weights: Weights): number {
  const weight = PART_NAMES.reduce((sum, name) => sum + weights[name], 0);
  const sum = PART_NAMES.reduce((all, name) => all + weights[name] * graded(name, parts[name], scales), 0);
  return weight === 0 ? 0 : sum / weight;
}

/** How the parts of an arrangement stand to today's: what is added to its score, in the order of all and on the way there. */
export function againstToday(parts: Parts, today: Parts, scales: Scales, weights: Weights): { rank: number; slope: number } {
  let rank = 0;
  let slope = 0;
  for (const name of PART_NAMES) {
    if (weights[name] === 0) continue;
    const loss = graded(name, parts[name], scales) - graded(name, today[name], scales);
    const slack = 1e-9;
    const atBest = parts[name] <= scales.least[name] + slack * Math.max(1, scales.least[name]);
    if (loss > UNNOTICED) rank += WORSE;
    if (loss > 0) slope += LOSS * loss;
    if (loss > -slack && !atBest) {
      rank += NO_BETTER;
      slope += NO_BETTER;
    }
  }
  return { rank, slope };
}

/** The score, and what is added to it where parts are no better than today's: the order of arrangements that keep all that is asked. */
export function rankOfParts(parts: Parts, today: Parts, scales: Scales, weights: Weights): number {
  return scoreOf(parts, scales, weights) + againstToday(parts, today, scales, weights).rank;
}
