import * as z from "zod/mini";

const DAYS = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"] as const;
const ACCEPTED = 'weekdays, such as "tue-sun", "sat, sun" or [tue, thu]';

/** Days of the week as people write them (`tue-sun`, `Sat, Sun`, a list of either), as numbers from 0, Monday, in order. */
export const weekdays = z
  .pipe(
    z.union([z.string(), z.array(z.string({ error: () => ACCEPTED }))], { error: () => ACCEPTED }),
    z.transform((written, context) => {
      const days = new Set<number>();
      const entries = typeof written === "string" ? [written] : written;
      entries.forEach((entry, index) => {
        const named = daysOf(entry);
        const path = typeof written === "string" ? [] : [index];
        if (named === null) context.issues.push({ code: "custom", message: ACCEPTED, input: entry, path });
        for (const day of named ?? []) days.add(day);
      });
      if (days.size > 0) return [...days].sort((a, b) => a - b);
      if (context.issues.length === 0) context.issues.push({ code: "custom", message: "at least one weekday", input: written });
      return z.NEVER;
    }),
  )
  .register(z.globalRegistry, { description: ACCEPTED, examples: ["tue-sun", ["sat", "sun"]] });

/** The days of an entry such as "tue", "Tuesday", "tue-sun" or "sat, sun"; null for anything else. */
function daysOf(entry: string): number[] | null {
  const days = entry.split(/[,;]|\band\b/i).map((part) => {
    const [first = "", last, ...more] = part.trim().toLowerCase().split(/\s*(?:-|–|\.\.|\bto\b)\s*/);
    const [from, to] = [dayOf(first), last === undefined ? dayOf(first) : dayOf(last)];
    if (from < 0 || to < 0 || more.length > 0) return null;
    // from Saturday to Monday leads over the weekend
    return Array.from({ length: ((to - from + 7) % 7) + 1 }, (_, i) => (from + i) % 7);
  });
  return days.includes(null) ? null : days.flatMap((some) => some ?? []);
}

function dayOf(word: string): number {
  const stem = word.replace(/[.s]$/, "");
  return stem.length < 3 ? -1 : DAYS.findIndex((day) => day.startsWith(stem));
}
