import type { Figures } from "../sim/figures/index.js";
import { percent, spokenDuration } from "../sim/units/text.js";

/** Shares up to this one cannot be told from the ground line of a picture. */
const FLAT = 0.005;
/** A first fall of the return curve that takes longer than this is worth a picture, seconds. */
const LATE = 600;

/** What the return curve shows, where it lies on the ground from the first minutes on; null where a picture tells more. */
export function flatReturns({ repeat }: Figures): string | null {
  const points = repeat.curve.flatMap(({ afterSeconds, share }) => (share === null ? [] : [{ afterSeconds, share }]));
  const last = points.at(-1);
  const begin = points.findLastIndex(({ share }) => share > FLAT) + 1;
  const first = points[begin];
  if (first === undefined || last === undefined || first === last || first.afterSeconds > LATE) return null;
  const most = points.slice(begin).reduce((highest, { share }) => Math.max(highest, share), 0);
  const met = most === 0 ? "the same scene is never met again" : `the same scene is met again at most ${percent(most)} of the time`;
  const span = `from ${spokenDuration(first.afterSeconds)} to ${spokenDuration(last.afterSeconds)}`;
  return `Coming back: ${met}, ${span} after the last look, reckoned every 15 s.`;
}

/** What the curve over stays shows, where it lies on the ground; null where a picture tells more. */
export function flatStays({ visit }: Figures): string | null {
  const points = visit.repeatCurve.flatMap(({ staySeconds, share }) => (share === null ? [] : [{ staySeconds, share }]));
  const last = points.at(-1);
  if (last === undefined || points.some(({ share }) => share > FLAT)) return null;
  const most = points.reduce((highest, { share }) => Math.max(highest, share), 0);
  const stay = spokenDuration(last.staySeconds);
  return most === 0
    ? `Staying: nobody who stays up to ${stay} sees a scene come back before leaving.`
    : `Staying: of those who stay up to ${stay}, at most ${percent(most)} see a scene come back before they leave.`;
}
