import * as z from "zod/mini";
import { formatClock, parseClock } from "../units/clock.js";
import type { Quantity } from "../units/quantity.js";
import { HOUR, toMicros } from "../units/time.js";

/**
 * Building blocks of the scenario schema. Every message is written as what would be accepted: the reader puts place,
 * key path and what was found before it.
 */

/** A mapping whose unknown keys are errors that name the nearest known key. */
export function keyed<Shape extends z.core.$ZodLooseShape>(what: string, shape: Shape) {
  return z.strictObject(shape, {
    error: (issue) => {
      const keys = Object.keys(shape);
      // the reader takes the known keys from here and looks for the nearest
      if (issue.code === "unrecognized_keys") return keys.join(" ");
      return `${what}: a mapping with the keys ${keys.join(", ")}`;
    },
  });
}

/** The longest time that anything in a display is asked about, seconds. */
export const FOREVER = 366 * 86_400;

const coordinate = z
  .number({ error: () => "a number from -100000 to 100000" })
  .check(
    z.gte(-1e5, { error: () => "a number from -100000 to 100000" }),
    z.lte(1e5, { error: () => "a number from -100000 to 100000" }),
  );

/** Where something lies in the picture. */
export const place = z.tuple([coordinate, coordinate], { error: () => "two picture coordinates, such as [40, 120]" });

interface Bounds {
  /** Least value accepted, or, with `above`, the value that must be exceeded. */
  readonly least?: number;
  readonly above?: number;
  readonly most?: number;
}

/** A quantity written as text with a unit or as a bare number in SI units. */
export function quantity(kind: Quantity, { least, above, most }: Bounds = {}) {
  const bounds = [
    ...(least === undefined ? [] : [`at least ${kind.format(least)}`]),
    ...(above === undefined ? [] : [`more than ${kind.format(above)}`]),
    ...(most === undefined ? [] : [`at most ${kind.format(most)}`]),
  ].join(" and ");
  const accepted = bounds === "" ? kind.accepted : `${kind.accepted}, ${bounds}`;
  return z
    .pipe(
      z.union([z.string(), z.number()], { error: () => accepted }),
      z.transform((written, context) => {
        const value = kind.parse(written);
        const inside =
          value !== null &&
          (least === undefined || value >= least) &&
          (above === undefined || value > above) &&
          (most === undefined || value <= most);
        if (inside) return value;
        context.issues.push({ code: "custom", message: accepted, input: context.value });
        return z.NEVER;
      }),
    )
    .register(z.globalRegistry, { description: accepted });
}

/** A duration as integer microseconds. */
export function micros(kind: Quantity, range: Bounds) {
  return z.pipe(quantity(kind, range), z.transform(toMicros));
}

const clockAccepted = 'a time of day such as "10:00", at most "24:00"';

/** A time of day as integer microseconds since midnight. */
export const timeOfDay = z
  .pipe(
    z.string({ error: () => clockAccepted }),
    z.transform((text, context) => {
      const value = parseClock(text);
      if (value !== null) return value;
      context.issues.push({ code: "custom", message: clockAccepted, input: context.value });
      return z.NEVER;
    }),
  )
  .register(z.globalRegistry, { description: clockAccepted, examples: [formatClock(10 * HOUR)] });

/** A whole number between two bounds, both included. */
export function whole(least: number, most: number) {
  const accepted = `a whole number from ${least} to ${most}`;
  return z
    .number({ error: () => accepted })
    .check(
      z.int({ error: () => accepted }),
      z.gte(least, { error: () => accepted }),
      z.lte(most, { error: () => accepted }),
    )
    .register(z.globalRegistry, { description: accepted });
}

/** One of a few words. */
export function word<const Words extends readonly [string, ...string[]]>(...words: Words) {
  return z.enum(words, { error: () => (words.length === 1 ? `"${words[0]}"` : `one of ${words.join(", ")}`) });
}

/** One line of text. */
export function text(most: number) {
  const accepted = `text of 1 to ${most} characters on one line`;
  return z
    .string({ error: () => accepted })
    .check(
      z.trim(),
      z.minLength(1, { error: () => accepted }),
      z.maxLength(most, { error: () => accepted }),
      z.regex(/^[^\p{Cc}\u2028\u2029]*$/u, { error: () => accepted }),
    )
    .register(z.globalRegistry, { description: accepted });
}

/** What an id looks like. */
export const ID = /^\p{L}[\p{L}\p{M}\p{N}_-]{0,39}$/u;
export const idAccepted = "a name of letters, digits, - and _ that begins with a letter (at most 40 characters)";

/** The name by which a house, board, lamp kind or zone is known in the file. */
export const id = z
  .string({ error: () => idAccepted })
  .check(z.regex(ID, { error: () => idAccepted }))
  .register(z.globalRegistry, { description: idAccepted });
