import { formatClock } from "../../../sim/units/clock.js";
import { drawTimeline } from "../../pictures/timeline.js";
import { html } from "../html.js";
import type { MakeSection } from "../section.js";
import { DAY, HOUR } from "../../../sim/units/time.js";


/** When each house is lit in one opening, and the boards' steps under it; the whole opening, then its first hour. */
export const timeline: MakeSection = ({ record, day }, album) => {
  const { from, until } = record.openings[day - 1]!;
  const start = formatClock(from % DAY);
  const whole = drawTimeline(album.document, record, {
    id: "timeline",
    title: `When each house is lit: opening ${day}`,
    opening: day - 1,
    window: { from, until },
    width: album.width,
  });
  const hour = until - from <= 2 * HOUR ? [] : drawTimeline(album.document, record, {
    id: "timeline-hour",
    title: `The first hour of opening ${day}, from ${start}`,
    opening: day - 1,
    window: { from, until: from + HOUR },
    width: album.width,
  });
  return {
    id: "timeline",
    heading: "The course of a day",
    body: html`<p>A bright bar is a lit house; the strips at the foot are the steps of the boards.</p>
${album.sheets("timeline", whole)}${album.sheets("timeline-hour", hour)}`,
  };
};
