import * as z from "zod/mini";
import { amps, celsius, duration, kelvins, metres, volts, watts } from "../units/quantities.js";
import { boardSchema, thermal } from "./boardschema.js";
import { FOREVER, id, keyed, micros, place, quantity, text, timeOfDay, whole, word } from "./fields.js";
import { promisesSchema } from "./promises.js";
import { DAY, HOUR, MINUTE } from "../units/time.js";
import { weekdays } from "./weekdays.js";

/** The scenario file, format 1: what validates it, and what the JSON Schema for editors is made from. */

// ---- surroundings ----

export const openingSchema = keyed("opening hours", {
  days: z._default(weekdays, [0, 1, 2, 3, 4, 5, 6]),
  from: z._default(timeOfDay, 0),
  until: z._default(timeOfDay, DAY),
  overnight: z._default(word("on", "off"), "off"),
  run: z._default(whole(1, 100_000), 30),
});

export const roomSchema = keyed("a room", {
  mean: z._default(quantity(celsius, { least: -20, most: 60 }), 25),
  swing: z._default(quantity(kelvins, { least: 0, most: 20 }), 0),
  warmest: z._default(timeOfDay, 15 * HOUR),
});

export const visitorsSchema = keyed("visitors", {
  stay: z._default(micros(duration, { above: 0, most: FOREVER }), 5 * MINUTE),
  returns: z._default(
    z
      .array(micros(duration, { above: 0, most: FOREVER }), {
        error: () => "a list of durations, such as [10 min, 1 h]",
      })
      .check(z.maxLength(1000, { error: () => "at most 1000 return times" })),
    [10 * MINUTE, 30 * MINUTE, HOUR, DAY],
  ),
});

const regulatorSchema = keyed("a regulator", {
  out: quantity(volts, { above: 0, most: 60 }),
  dropout: z.optional(quantity(volts, { above: 0, most: 60 })),
  thermal: z.optional(thermal),
});

export const supplySchema = keyed("a supply", {
  volts: z._default(quantity(volts, { above: 0, most: 60 }), 12),
  limit: z.optional(quantity(amps, { above: 0, most: 1000 })),
  regulated: z._default(z.boolean({ error: () => "true or false" }), true),
  regulator: z.optional(regulatorSchema),
  glitches: z._default(
    z
      .number({ error: () => "stray pulses per hour and board, a number from 0 to 100000" })
      .check(
        z.gte(0, { error: () => "stray pulses per hour and board, a number from 0 to 100000" }),
        z.lte(100_000, { error: () => "stray pulses per hour and board, a number from 0 to 100000" }),
      ),
    0,
  ),
}).check(
  z.refine(({ volts: input, regulator }) => regulator === undefined || regulator.out < input, {
    path: ["regulator", "out"],
    error: () => "a voltage below the supply's volts, which go into the regulator",
  }),
);

const timesAccepted = "how many times the hot current a cold filament takes, a number from 1 to 100";
const times = z
  .number({ error: () => timesAccepted })
  .check(z.gte(1, { error: () => timesAccepted }), z.lte(100, { error: () => timesAccepted }))
  .register(z.globalRegistry, { description: timesAccepted });

const lampSchema = keyed("a kind of lamp", {
  amps: z.optional(quantity(amps, { above: 0, most: 100 })),
  volts: z.optional(quantity(volts, { above: 0, most: 60 })),
  watts: z.optional(quantity(watts, { above: 0, most: 1000 })),
  filament: z.optional(z.boolean({ error: () => "true or false" })),
  cold: z.optional(times),
  forward: z.optional(quantity(volts, { above: 0, most: 60 })),
  in: z.optional(whole(1, 100)),
}).check(
  z.refine(({ amps: a, volts: v, watts: w }) => (a !== undefined) !== (v !== undefined && w !== undefined), {
    error: () => "either amps, or volts and watts",
  }),
  z.refine(
    ({ forward, amps: a, filament, cold }) =>
      forward === undefined || (a !== undefined && filament !== true && cold === undefined),
    {
      path: ["forward"],
      error: () => "forward for a bare LED only, which is given by forward, amps and in, and has no filament",
    },
  ),
  z.refine(({ forward, in: inSeries }) => inSeries === undefined || forward !== undefined, {
    path: ["in"],
    error: () => "in only beside forward: it says how many bare LEDs stand in series on one resistor",
  }),
  z.refine(({ filament, cold }) => cold === undefined || filament === true, {
    path: ["cold"],
    error: () => "cold only beside filament: true: how many times its current the cold filament takes, such as 10",
  }),
);
export const lampsSchema = z.record(id, lampSchema, { error: () => "a mapping from lamp kind to its ratings" });

const houseSchema = z.union(
  [
    z.pipe(
      z.null(),
      z.transform(() => ({ name: undefined, zone: undefined, at: undefined, wired: undefined })),
    ),
    keyed("a house", {
      name: z.optional(text(80)),
      zone: z.optional(id),
      at: z.optional(place),
      wired: z.optional(word("together", "apart")),
    }),
  ],
  { error: () => "a mapping with name, zone, at, wired (all optional)" },
);
export const housesSchema = z.record(id, houseSchema, {
  error: () => "a mapping from house to its name, zone, at, wired",
});

const houseGroups = z._default(
  z.array(z.array(id).check(z.minLength(2, { error: () => "at least two houses" })), {
    error: () => "a list of lists of houses, such as [[inn, chapel]]",
  }),
  [],
);

export const arrangeSchema = keyed("wishes for the arrangement", {
  together: houseGroups,
  apart: houseGroups,
  keep: z._default(z.array(id, { error: () => "a list of houses, such as [inn, chapel]" }), []),
  perOutput: z.optional(whole(1, 1000)),
  board: z._default(z.record(id, id, { error: () => "a mapping from house to board, such as { inn: quay }" }), {}),
});

export const spreadSchema = keyed("a spread", { shape: z._default(word("rectangular", "normal"), "rectangular") });

export const titleSchema = text(200);
export const scaleSchema = quantity(metres, { above: 0, most: 10 });
export const seedSchema = z._default(
  z.pipe(z.union([text(200), z.number()], { error: () => "any text" }), z.transform(String)),
  "lampdrift",
);

/** Another scenario file, of which this one says only what differs. */
export const baseSchema = fileName(
  'the name of another scenario file, such as "harbour.yaml"',
  "the scenario file that this one is a variant of: then only what differs need stand here",
);

/** A picture of the display; `sim/scenario/picturefile.ts` looks at the file. */
export const pictureSchema = fileName(
  'the name of a picture beside this file, such as "harbour.jpg"',
  "a photo or drawing of the display (JPEG, PNG or SVG, at most 4 MB) beside this file or in a folder below: the houses' places " +
    "are in its pixels",
);

function fileName(accepted: string, description: string) {
  return z
    .string({ error: () => accepted })
    .check(z.trim(), z.minLength(1, { error: () => accepted }), z.maxLength(1000, { error: () => accepted }))
    .register(z.globalRegistry, { description });
}

export const scenarioSchema = keyed("a scenario", {
  lampdrift: z.literal(1, { error: () => "1, the version of the format" }),
  title: titleSchema,
  picture: z.optional(pictureSchema),
  seed: seedSchema,
  opening: z.optional(openingSchema),
  room: z.optional(roomSchema),
  visitors: z.optional(visitorsSchema),
  supply: z.optional(supplySchema),
  lamps: z.optional(lampsSchema),
  houses: housesSchema,
  scale: z.optional(scaleSchema),
  boards: z.record(id, boardSchema, { error: () => "a mapping from board to its timer, counter, outputs" }),
  promises: z.optional(promisesSchema),
  spread: z.optional(spreadSchema),
  arrange: z.optional(arrangeSchema),
  base: z.optional(baseSchema),
});
