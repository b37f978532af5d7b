import { bisectRight } from "d3-array";
import type { SceneRecord } from "../../sim/engine/record.js";
import { DAY, toSeconds, type Micros, type Seconds } from "../../sim/units/time.js";

/** Questions about single moments of a record. `t`: since the first Monday 00:00; `time`: since midnight. */

/** A moment in words that state keeps: an opening, from 0, and a time of day in it. */
export interface Moment {
  readonly opening: number;
  readonly time: Micros;
}

/** Midnight before an opening. */
export function midnightOf(record: SceneRecord, opening: number): Micros {
  return Math.floor(record.openings[opening]!.from / DAY) * DAY;
}

/** The moment inside the record that is nearest to the one asked for: an opening that there is, and a time at which it is open. */
export function within(record: SceneRecord, { opening, time }: Moment): Moment {
  const k = Math.min(Math.max(0, opening), record.openings.length - 1);
  const { from, until } = record.openings[k]!;
  const midnight = midnightOf(record, k);
  return { opening: k, time: Math.min(Math.max(time, from - midnight), until - midnight - 1) };
}

export function instantOf(record: SceneRecord, { opening, time }: Moment): Micros {
  return midnightOf(record, opening) + time;
}

/** Number of the spell that an opening shows at t. */
function spellAt(record: SceneRecord, opening: number, t: Micros): number {
  const { first, end } = record.openings[opening]!;
  return bisectRight(record.spellStart, t, first, end) - 1;
}

/** Number of the scene shown at a moment. */
export function sceneAt(record: SceneRecord, moment: Moment): number {
  return record.spellScene[spellAt(record, moment.opening, instantOf(record, moment))]!;
}

/** Houses lit at a moment, ascending. */
export function litAt(record: SceneRecord, moment: Moment): readonly number[] {
  return record.scenes.lit(sceneAt(record, moment));
}

/** Where the spell begins that comes so many after the one shown (before it, if negative); null beyond the ends of the record. */
export function spellFrom(record: SceneRecord, moment: Moment, steps: number): Moment | null {
  const spell = spellAt(record, moment.opening, instantOf(record, moment)) + steps;
  return spell < 0 || spell >= record.spellStart.length ? null : startOf(record, spell);
}

/** When the scene of a moment is shown again, having gone in between or being met the next day; null: not in this run. */
export function comesBack(record: SceneRecord, moment: Moment): (Moment & { readonly afterSeconds: Seconds }) | null {
  const t = instantOf(record, moment);
  const spell = spellAt(record, moment.opening, t);
  const again = record.spellScene.indexOf(record.spellScene[spell]!, spell + 1);
  return again < 0 ? null : { ...startOf(record, again), afterSeconds: toSeconds(record.spellStart[again]! - t) };
}

function startOf(record: SceneRecord, spell: number): Moment {
  const opening = record.openings.findIndex(({ end }) => spell < end);
  return { opening, time: record.spellStart[spell]! - midnightOf(record, opening) };
}

/** Scene changes of an opening in so many equal parts of it. */
export function changesPerPart(record: SceneRecord, opening: number, parts: number): number[] {
  const { first, end, from, until } = record.openings[opening]!;
  const counts = new Array<number>(parts).fill(0);
  for (let i = first + 1; i < end; i++) {
    const part = Math.floor(((record.spellStart[i]! - from) / (until - from)) * parts);
    counts[part] = counts[part]! + 1;
  }
  return counts;
}

/** When one house is lit in an opening: stretches as shares of it, 0 at its beginning. */
export function lightOf(record: SceneRecord, opening: number, house: number): { readonly from: number; readonly until: number }[] {
  const { first, end, from, until } = record.openings[opening]!;
  const share = (t: Micros): number => (t - from) / (until - from);
  const found: { from: number; until: number }[] = [];
  let since: number | null = null;
  for (let i = first; i < end; i++) {
    const lit = record.scenes.isLit(record.spellScene[i]!, house);
    const start = record.spellStart[i]!;
    if (lit) since ??= start;
    else if (since !== null) {
      found.push({ from: share(since), until: share(start) });
      since = null;
    }
  }
  if (since !== null) found.push({ from: share(since), until: 1 });
  return found;
}

/** The steps of one board: at `time[i]` it goes to `step[i]`; −1: without power. */
export interface Steps {
  readonly time: Float64Array;
  readonly step: Int32Array;
}

/** The moves of a traced record, board by board. */
export function stepsOf({ trace, boards }: SceneRecord): Steps[] {
  const { time, board, step } = trace!;
  const counts = new Int32Array(boards.length);
  for (const b of board) counts[b] = counts[b]! + 1;
  const found = Array.from(counts, (count): Steps => ({ time: new Float64Array(count), step: new Int32Array(count) }));
  counts.fill(0);
  for (let i = 0; i < time.length; i++) {
    const b = board[i]!;
    const at = counts[b]!;
    found[b]!.time[at] = time[i]!;
    found[b]!.step[at] = step[i]!;
    counts[b] = at + 1;
  }
  return found;
}

/** Step that a board is at, and when the next begins; null where none comes. */
export function stepAt({ time, step }: Steps, t: Micros): { readonly step: number; readonly nextAt: Micros | null } {
  const at = bisectRight(time, t) - 1;
  const next = at + 1 < time.length && step[at + 1]! >= 0 ? time[at + 1]! : null;
  return { step: step[at] ?? -1, nextAt: next };
}
