import { promisesKept } from "./judge.js";
import type { TunedSetting } from "./setting.js";

/** A worst echo so much lower, for a score so little higher, is worth a word. */
const CALMER_ECHO = 0.7;
const CALMER_SCORE = 1.1;
/** … where the echo stands out from chance by this factor. */
const STANDS_OUT = 2;
/** Scores this close together are told apart by their worst echo. */
const TIE = 1.005;

/**
 * Settings in the order in which they are told. Those that are worse than the knobs as they are come behind; null: these
 * are no choice.
 */
export function bestFirst(others: readonly TunedSetting[], asItIs: TunedSetting | null): TunedSetting[] {
  const worse = others.filter((one) => asItIs !== null && isWorse(one, asItIs));
  const notWorse = others.filter((one) => !worse.includes(one));
  return [...ranked(asItIs === null ? notWorse : [...notWorse, asItIs]), ...ranked(worse)];
}

/**
 * Those that keep the promises first, then those that most builds reach, then the lowest score; where scores are as good as
 * equal, the lower worst echo.
 */
function ranked(settings: readonly TunedSetting[]): TunedSetting[] {
  const left = [...settings].sort((a, b) => byPromises(a, b) || a.unreachable - b.unreachable || a.score - b.score);
  const order: TunedSetting[] = [];
  while (left.length > 0) {
    const [lead] = left;
    const alike = left.filter((one) => byPromises(one, lead!) === 0 && one.unreachable === lead!.unreachable);
    const tied = alike.filter((one) => one.score <= lead!.score * TIE);
    const next = tied.reduce((a, b) => (b.worstEcho < a.worstEcho ? b : a));
    order.push(next);
    left.splice(left.indexOf(next), 1);
  }
  return order;
}

/** Below 0 where the first keeps its promises better, to tenths of all builds; what every build keeps is better than nearly every. */
function byPromises(a: TunedSetting, b: TunedSetting): number {
  const always = ({ promises }: TunedSetting): number => promises.filter(({ kept, builds }) => kept === builds).length;
  return promisesKept(b) - promisesKept(a) || always(b) - always(a);
}

/**
 * Whether a setting keeps promises in fewer builds than another, all added up, or in as many and out of reach in more, or
 * with a higher score.
 */
function isWorse(one: TunedSetting, than: TunedSetting): boolean {
  const kept = ({ promises }: TunedSetting): number => promises.reduce((sum, promised) => sum + promised.kept, 0);
  return kept(one) < kept(than) || (kept(one) === kept(than) && (one.unreachable > than.unreachable || one.score > than.score));
}

/** Index of a setting with a much lower worst echo for little more score than the first; null where there is none. */
export function calmerThanFirst(settings: readonly TunedSetting[]): number | null {
  const first = settings[0];
  if (first === undefined || first.worstEcho < STANDS_OUT * first.chance) return null;
  const found = settings.findIndex(
    (one, i) => i > 0 && promisesKept(one) === promisesKept(first) && one.worstEcho <= CALMER_ECHO * first.worstEcho && one.score <= CALMER_SCORE * first.score,
  );
  return found < 0 ? null : found;
}
