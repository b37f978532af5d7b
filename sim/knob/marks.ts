import type { KnobScale } from "./scale.js";
import type { Seconds } from "../units/time.js";

/** A round step time and where it stands on the dial. */
export interface Mark {
  /** Seconds. */
  readonly seconds: Seconds;
  /** Share of the knob's travel. */
  readonly dial: number;
}

/** Marks of one fineness between two neighbouring coarser marks, in order along the dial. */
export interface MarkGroup {
  readonly marks: readonly Mark[];
  /** Index of the group whose marks they stand between; null for the coarsest. */
  readonly within: number | null;
  /** Seconds from one to the next. */
  readonly every: number;
}

/** Step times that read well, each a whole number of times the one before: seconds, minutes, hours, days. */
const ROUND = [1, 5, 10, 30, 60, 300, 600, 1800, 3600, 10_800, 21_600, 43_200, 86_400] as const;

/** Marks are no nearer than this share of a step time: nobody measures a step more exactly. */
const FINEST = 1e-5;
/** A range of step times narrower than this share of them is not divided: the knob does next to nothing. */
const NARROWEST = 10 * FINEST;

/**
 * Round step times along a scale, coarse groups before fine ones. A group is there only where all its marks keep
 * `leastGap` (share of the travel) between them and to the coarser marks around, so that the eye can count them.
 */
export function roundMarks(scale: KnobScale, leastGap: number): MarkGroup[] {
  const { least, most } = scale;
  if (most - least <= NARROWEST * most) return [];
  const groups: MarkGroup[] = [];
  const finest = Math.max((most - least) * leastGap * 1e-3, most * FINEST);
  const end = scale.dialAt(most);
  // breadth first, so that coarse groups come first
  const waiting: Between[] = [{ from: least, to: most, lower: null, upper: null, every: coarsest(most), within: null }];
  for (let i = 0; i < waiting.length; i++) {
    const { from, to, lower, upper, every, within } = waiting[i]!;
    const width = (upper?.dial ?? end) - (lower?.dial ?? 0);
    if (every < finest || width < leastGap) continue;
    const marks = multiples(every, from, to, lower !== null, upper !== null).map((seconds) => ({ seconds, dial: scale.dialAt(seconds) }));
    const kept = within === null ? spaced(marks, leastGap) : marks;
    const along = [...(lower === null ? [] : [lower.dial]), ...kept.map(({ dial }) => dial), ...(upper === null ? [] : [upper.dial])];
    if (kept.length > 0 && along.some((dial, k) => k > 0 && dial - along[k - 1]! < leastGap)) continue;
    const group = kept.length > 0 ? groups.push({ marks: kept, within, every }) - 1 : within;
    for (let k = 0; k <= kept.length; k++) {
      const below = k === 0 ? lower : kept[k - 1]!;
      const above = k === kept.length ? upper : kept[k]!;
      waiting.push({ from: below?.seconds ?? from, to: above?.seconds ?? to, lower: below, upper: above, every: finer(every), within: group });
    }
  }
  return groups;
}

/**
 * Some of the marks: those for which there is room, told by `fits`, beside the ones chosen before. Coarse ones come
 * first, and of a group all or none, so that the choice looks even; only where that leaves holes wider than `hole`
 * (share of the travel) single marks fill them.
 */
export function chooseMarks(groups: readonly MarkGroup[], hole: number, fits: (mark: Mark, chosen: readonly Mark[]) => boolean): Mark[] {
  const chosen: Mark[] = [];
  const whole = new Set<number | null>([null]);
  groups.forEach(({ marks, within }, g) => {
    if (!whole.has(within)) return;
    const fitting: Mark[] = [];
    for (const mark of marks) if (fits(mark, [...chosen, ...fitting])) fitting.push(mark);
    if (fitting.length < marks.length && within !== null) return;
    chosen.push(...fitting);
    if (fitting.length === marks.length) whole.add(g);
  });
  for (const mark of groups.flatMap(({ marks }) => marks)) {
    if (chosen.includes(mark)) continue;
    const places = chosen.map(({ dial }) => dial);
    const below = Math.max(0, ...places.filter((place) => place < mark.dial));
    const above = Math.min(1, ...places.filter((place) => place > mark.dial));
    if (above - below > hole && fits(mark, chosen)) chosen.push(mark);
  }
  return chosen.sort((one, other) => one.dial - other.dial);
}

/** A stretch of the scale between two marks, or an end of the scale where there is none. */
interface Between {
  readonly from: number;
  readonly to: number;
  readonly lower: Mark | null;
  readonly upper: Mark | null;
  readonly every: number;
  readonly within: number | null;
}

/** Multiples of `every` from one bound to the other, the bounds themselves left out where they are marked already. */
function multiples(every: number, from: number, to: number, fromMarked: boolean, toMarked: boolean): number[] {
  const first = fromMarked ? Math.round(from / every) + 1 : Math.ceil(from / every);
  const last = toMarked ? Math.round(to / every) - 1 : Math.floor(to / every);
  // twelve digits take away what doubles leave of a decimal fraction
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => Number(((first + i) * every).toPrecision(12)));
}

/** The marks without those that stand too near to the one before. */
function spaced(marks: readonly Mark[], leastGap: number): Mark[] {
  const kept: Mark[] = [];
  for (const mark of marks) if (kept.length === 0 || mark.dial - kept.at(-1)!.dial >= leastGap) kept.push(mark);
  return kept;
}

/** The coarsest round time that is not above `most`. */
function coarsest(most: number): number {
  const days = most / ROUND.at(-1)!;
  if (days >= 1) return ROUND.at(-1)! * decade(days);
  return ROUND.findLast((round) => round <= most) ?? decade(most);
}

/** The next finer round time. */
function finer(every: number): number {
  const at = ROUND.findIndex((round) => round === every);
  if (at > 0) return ROUND[at - 1]!;
  const unit = every < 1 || at === 0 ? 1 : ROUND.at(-1)!;
  const power = 10 ** Math.floor(Math.log10(every / unit) + 1e-9);
  const next = every / unit / power > 2 ? power : power / 2;
  return Number((next * unit).toPrecision(12));
}

/** The greatest of … 0.1, 0.5, 1, 5, 10, 50 … that is not above a value. */
function decade(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  return Number((value / power >= 5 ? 5 * power : power).toPrecision(12));
}
