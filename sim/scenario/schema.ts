import * as z from "zod";
import { amps, celsius, duration, kelvins, metres, volts, watts } from "../units/quantities.js";
import { boardSchema, thermal } from "./boardschema.js";
import { FOREVER, id, keyed, micros, place, quantity, text, timeOfDay, whole, word } from "./fields.js";
import { promisesSchema } from "./promises.js";
import { DAY, HOUR, MINUTE } from "../units/time.js";

/** The scenario file, format 1: what validates it, and what the JSON Schema for editors is made from. */

// ---- surroundings ----

const weekdays = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"] as const;

export const openingSchema = keyed("opening hours", {
  days: z
    .array(word(...weekdays), { error: () => "a list of weekdays, such as [sat, sun]" })
    .min(1, { error: () => "at least one weekday" })
    .transform((days) => [...new Set(days)].map((day) => weekdays.indexOf(day)).sort((a, b) => a - b))
    .default([0, 1, 2, 3, 4, 5, 6]),
  from: timeOfDay.default(0),
  until: timeOfDay.default(DAY),
  overnight: word("on", "off").default("off"),
  run: whole(1, 100_000).default(30),
});

export const roomSchema = keyed("a room", {
  mean: quantity(celsius, { least: -20, most: 60 }).default(25),
  swing: quantity(kelvins, { least: 0, most: 20 }).default(0),
  warmest: timeOfDay.default(15 * HOUR),
});

export const visitorsSchema = keyed("visitors", {
  stay: micros(duration, { above: 0, most: FOREVER }).default(5 * MINUTE),
  returns: z
    .array(micros(duration, { above: 0, most: FOREVER }), { error: () => "a list of durations, such as [10 min, 1 h]" })
    .max(1000, { error: () => "at most 1000 return times" })
    .default([10 * MINUTE, 30 * MINUTE, HOUR, DAY]),
});

const regulatorSchema = keyed("a regulator", {
  out: quantity(volts, { above: 0, most: 60 }),
  dropout: quantity(volts, { above: 0, most: 60 }).optional(),
  thermal: thermal.optional(),
});

export const supplySchema = keyed("a supply", {
  volts: quantity(volts, { above: 0, most: 60 }).default(12),
  limit: quantity(amps, { above: 0, most: 1000 }).optional(),
  regulated: z.boolean({ error: () => "true or false" }).default(true),
  regulator: regulatorSchema.optional(),
  glitches: z
    .number({ error: () => "stray pulses per hour and board, a number from 0 to 100000" })
    .min(0, { error: () => "stray pulses per hour and board, a number from 0 to 100000" })
    .max(100_000, { error: () => "stray pulses per hour and board, a number from 0 to 100000" })
    .default(0),
}).refine(({ volts: input, regulator }) => regulator === undefined || regulator.out < input, {
  path: ["regulator", "out"],
  error: () => "a voltage below the supply's volts, which go into the regulator",
});

const timesAccepted = "how many times the hot current a cold filament takes, a number from 1 to 100";
const times = z
  .number({ error: () => timesAccepted })
  .min(1, { error: () => timesAccepted })
  .max(100, { error: () => timesAccepted })
  .meta({ description: timesAccepted });

const lampSchema = keyed("a kind of lamp", {
  amps: quantity(amps, { above: 0, most: 100 }).optional(),
  volts: quantity(volts, { above: 0, most: 60 }).optional(),
  watts: quantity(watts, { above: 0, most: 1000 }).optional(),
  filament: z.boolean({ error: () => "true or false" }).optional(),
  cold: times.optional(),
  forward: quantity(volts, { above: 0, most: 60 }).optional(),
  in: whole(1, 100).optional(),
})
  .refine(({ amps: a, volts: v, watts: w }) => (a !== undefined) !== (v !== undefined && w !== undefined), {
    error: () => "either amps, or volts and watts",
  })
  .refine(({ forward, amps: a, filament, cold }) => forward === undefined || (a !== undefined && filament !== true && cold === undefined), {
    path: ["forward"],
    error: () => "forward for a bare LED only, which is given by forward, amps and in, and has no filament",
  })
  .refine(({ forward, in: inSeries }) => inSeries === undefined || forward !== undefined, {
    path: ["in"],
    error: () => "in only beside forward: it says how many bare LEDs stand in series on one resistor",
  })
  .refine(({ filament, cold }) => cold === undefined || filament === true, {
    path: ["cold"],
    error: () => "cold only beside filament: true: how many times its current the cold filament takes, such as 10",
  });
export const lampsSchema = z.record(id, lampSchema, { error: () => "a mapping from lamp kind to its ratings" });

const houseSchema = z.union(
  [
    z.null().transform(() => ({ name: undefined, zone: undefined, at: undefined, wired: undefined })),
    keyed("a house", {
      name: text(80).optional(),
      zone: id.optional(),
      at: place.optional(),
      wired: word("together", "apart").optional(),
    }),
  ],
  { error: () => "a mapping with name, zone, at, wired (all optional)" },
);
export const housesSchema = z.record(id, houseSchema, { error: () => "a mapping from house to its name, zone, at, wired" });

export const spreadSchema = keyed("a spread", { shape: word("rectangular", "normal").default("rectangular") });

export const titleSchema = text(200);
export const scaleSchema = quantity(metres, { above: 0, most: 10 });
export const seedSchema = z
  .union([text(200), z.number()], { error: () => "any text" })
  .transform(String)
  .default("lampdrift");

const BASE_ACCEPTED = 'the name of another scenario file, such as "harbour.yaml"';

/** Another scenario file, of which this one says only what differs. */
export const baseSchema = z
  .string({ error: () => BASE_ACCEPTED })
  .trim()
  .min(1, { error: () => BASE_ACCEPTED })
  .max(1000, { error: () => BASE_ACCEPTED })
  .meta({ description: "the scenario file that this one is a variant of: then only what differs need stand here" });
export const scenarioSchema = keyed("a scenario", {
  lampdrift: z.literal(1, { error: () => "1, the version of the format" }),
  title: titleSchema,
  seed: seedSchema,
  opening: openingSchema.optional(),
  room: roomSchema.optional(),
  visitors: visitorsSchema.optional(),
  supply: supplySchema.optional(),
  lamps: lampsSchema.optional(),
  houses: housesSchema,
  scale: scaleSchema.optional(),
  boards: z.record(id, boardSchema, { error: () => "a mapping from board to its timer, counter, outputs" }),
  promises: promisesSchema.optional(),
  spread: spreadSchema.optional(),
  base: baseSchema.optional(),
});
