import type { Opening } from "../model/scenario.js";
import { DAY, HOUR, type Micros } from "../units/time.js";

/** The open hours of one day, [from, until) in microseconds since the first Monday 00:00. */
export interface OpenHours {
  readonly from: Micros;
  readonly until: Micros;
}

/** The openings to simulate: the first `run` days that are opening days, from Monday on. */
export function openings(opening: Opening): OpenHours[] {
  const found: OpenHours[] = [];
  for (let day = 0; found.length < opening.run; day++) {
    if (opening.days.includes(day % 7)) {
      found.push({ from: day * DAY + opening.from, until: day * DAY + opening.until });
    }
  }
  return found;
}

/** Hours for which a board has power in the whole run. */
export function poweredHours(opening: Opening): number {
  const days = openings(opening);
  const micros = opening.overnight
    ? days.at(-1)!.until - days[0]!.from
    : days.length * (opening.until - opening.from);
  return micros / HOUR;
}
