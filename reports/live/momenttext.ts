import { houseName } from "../../sim/model/housename.js";
import type { SceneRecord } from "../../sim/engine/record.js";
import { formatClock, WEEKDAYS } from "../../sim/units/clock.js";
import { litAt, midnightOf, type Moment } from "./moments.js";
import { DAY, SECOND, toSeconds, type Micros } from "../../sim/units/time.js";
import { listed, upTo } from "../../sim/units/text.js";

/** Houses told by name to somebody who listens. */
const TOLD = 12;

/** "10:05:20": a time of day, fractions of a second left out. */
export function clockText(time: Micros): string {
  const seconds = Math.floor(toSeconds(time)) * SECOND;
  const text = formatClock(seconds);
  return text.length > 5 ? text : `${text}:00`;
}

/** "Opening 3, Thu". */
export function openingText(record: SceneRecord, opening: number): string {
  return `Opening ${opening + 1}, ${WEEKDAYS[(midnightOf(record, opening) / DAY) % 7]!}`;
}

/** Exactly what is lit: the description of the picture. */
export function litText(record: SceneRecord, moment: Moment): string {
  return `Lit: ${litAt(record, moment).map((house) => houseName(record.scenario, house)).join(", ") || "none"}`;
}

/** A moment for somebody who listens: time, opening, and what is lit, with the first dozen by name. */
export function momentText(record: SceneRecord, moment: Moment): string {
  const names = litAt(record, moment).map((house) => houseName(record.scenario, house));
  return `${openingText(record, moment.opening)}, ${clockText(moment.time)}. Lit: ${listed(upTo(names, TOLD)) || "none"}.`;
}
