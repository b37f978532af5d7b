import { z } from "zod";
import {
  amps,
  celsius,
  drift,
  duration,
  farads,
  kelvins,
  ohms,
  ratio,
  tempco,
  volts,
  watts,
} from "../units/quantities.js";
import { partAccepted, parsePartMarking, parseTolerance, toleranceAccepted } from "../units/part.js";
import type { Quantity } from "../units/quantity.js";
import { id, keyed, micros, quantity, text, timeOfDay, whole, word } from "./fields.js";

/** The scenario file, format 1: what validates it, and what the JSON Schema for editors is made from. */

// ---- parts ----

const partTypes = ["carbon", "metal", "film", "electrolytic", "low-leakage", "tantalum"] as const;

const tolerance = z
  .union([z.string(), z.number()], { error: () => toleranceAccepted })
  .transform((written, context) => {
    const parsed = parseTolerance(written);
    if (parsed !== null) return parsed;
    context.addIssue({ code: "custom", message: toleranceAccepted });
    return z.NEVER;
  })
  .meta({ description: toleranceAccepted });

const leakage = z.union(
  [
    quantity(amps, { least: 0 }),
    keyed("a leakage", { typical: quantity(amps, { least: 0 }), limit: quantity(amps, { least: 0 }) }).refine(
      ({ typical, limit }) => typical <= limit,
      { path: ["typical"], error: () => "a typical leakage not above the limit" },
    ),
  ],
  { error: () => 'a leakage such as "0.5 uA", or a mapping with typical and limit' },
);

const partKeys = { tolerance: tolerance.optional(), tempco: quantity(tempco).optional() };

/** A part as text ("470 uF ±20 %") or as an object; both come out as the object's keys. */
function part<Keys extends z.core.$ZodLooseShape>(kind: Quantity, keys: Keys) {
  const accepted = partAccepted(kind);
  const marking = z
    .union([z.string(), z.number()], { error: () => accepted })
    .transform((written, context) => {
      const parsed = parsePartMarking(String(written), kind);
      if (parsed !== null) return parsed;
      context.addIssue({ code: "custom", message: accepted });
      return z.NEVER;
    })
    .meta({ description: accepted });
  const spelledOut = keyed("a part", { value: marking, ...partKeys, type: word(...partTypes).optional(), ...keys });
  return z.union([marking.transform((value) => ({ value })), spelledOut], {
    error: () => `${accepted}, or a mapping with value, tolerance, tempco, type`,
  });
}

const resistor = part(ohms, {});
const capacitor = part(farads, { leakage: leakage.optional() });

// ---- timers ----

const step = quantity(duration, { least: 1e-3, most: 1e7 });

/** Where the knob stands; written in the trimmer or beside it. */
const knob = {
  dial: quantity(ratio, { least: 0, most: 1 }).optional(),
  setTo: step.optional(),
  reading: quantity(duration, { least: 0, most: 3600 }).optional(),
};

const trimmer = keyed("a trimmer", {
  value: part(ohms, {}),
  in: word("ra", "rb"),
  taper: word("linear", "log").default("linear"),
  ...knob,
});

const clocked = {
  jitter: quantity(ratio, { least: 0, most: 0.2 }).default(0),
  drift: quantity(drift, { least: -1e-3, most: 1e-3 }).default(0),
};

export const timerSchema = z.discriminatedUnion(
  "kind",
  [
    keyed("an astable timer", {
      kind: z.literal("astable"),
      ra: resistor,
      rb: resistor,
      c: capacitor,
      trimmer: trimmer.optional(),
      ...knob,
      chip: word("bipolar", "cmos").optional(),
      divide: whole(1, 2 ** 24).default(1),
      ...clocked,
    }),
    keyed("a measured timer", {
      kind: z.literal("measured"),
      step,
      reading: quantity(duration, { least: 0, most: 3600 }).default(0),
      tempco: quantity(tempco).default(0),
      ...clocked,
    }),
    keyed("a quartz timer", {
      kind: z.literal("quartz"),
      step,
      tolerance: quantity(ratio, { least: 0, most: 0.1 }).default(0),
      ...clocked,
    }),
    keyed("a carry timer", { kind: z.literal("carry"), from: id }),
  ],
  { error: () => "a timer: a mapping with kind astable, measured, quartz or carry" },
);

// ---- counters ----

export const STEPS_LIMIT = 65_536;
const powerUp = word("reset", "anywhere").default("reset");
const rowAccepted = "rows of output numbers, such as [[0, 1], [2], []]";
const rows = (least: number) =>
  z
    .array(z.array(whole(0, 255)), { error: () => rowAccepted })
    .min(least, { error: () => `at least ${least} rows` })
    .max(4096, { error: () => "at most 4096 rows" });

export const counterSchema = z.discriminatedUnion(
  "kind",
  [
    keyed("a ring counter", { kind: z.literal("ring"), steps: whole(2, STEPS_LIMIT), powerUp }),
    keyed("a Johnson counter", { kind: z.literal("johnson"), stages: whole(1, STEPS_LIMIT / 2), powerUp }),
    keyed("a binary counter", { kind: z.literal("binary"), bits: whole(1, 16), powerUp }),
    keyed("a shift register counter", {
      kind: z.literal("lfsr"),
      bits: whole(2, 16),
      taps: z
        .array(whole(1, 16), { error: () => "a list of stage numbers, such as [4, 3]" })
        .min(1, { error: () => "at least one tap" })
        .optional(),
      powerUp,
    }),
    keyed("a table counter", {
      kind: z.literal("table"),
      steps: rows(1),
      hold: z
        .array(quantity(ratio, { above: 0, most: 1e6 }), { error: () => "one factor a step, such as [1, 2, 1]" })
        .optional(),
      powerUp,
    }),
    keyed("a shuffle counter", { kind: z.literal("shuffle"), steps: rows(2), powerUp }),
  ],
  { error: () => "a counter: a mapping with kind ring, johnson, binary, lfsr, table or shuffle" },
);

// ---- boards ----

const load = z.union(
  [
    id.transform((house) => ({ house, lamps: 1, lamp: undefined })),
    keyed("a load", { house: id, lamps: whole(1, 1000).default(1), lamp: id.optional() }),
  ],
  { error: () => "a house, or a mapping with house, lamps, lamp" },
);

export const outputsSchema = z.record(
  z.string().regex(/^(0|[1-9]\d{0,4})$/, { error: () => "an output number: 0, 1, 2, …" }),
  z.union([load.transform((one) => [one]), z.array(load)], { error: () => "a house, or a list of houses" }),
  { error: () => "a mapping from output number to house, or list of houses" },
);

export const driverSchema = keyed("a driver", { kind: word("darlington-8", "mosfet").default("darlington-8") });

const boardSchema = keyed("a board", {
  timer: timerSchema,
  counter: counterSchema,
  driver: driverSchema.optional(),
  outputs: outputsSchema,
});

// ---- surroundings ----

const weekdays = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"] as const;

export const openingSchema = keyed("opening hours", {
  days: z
    .array(word(...weekdays), { error: () => "a list of weekdays, such as [sat, sun]" })
    .min(1, { error: () => "at least one weekday" })
    .transform((days) => [...new Set(days)].map((day) => weekdays.indexOf(day)).sort((a, b) => a - b))
    .default([0, 1, 2, 3, 4, 5, 6]),
  from: timeOfDay.default(0),
  until: timeOfDay.default(86_400_000_000),
  overnight: word("on", "off").default("off"),
  run: whole(1, 100_000).default(30),
});

export const roomSchema = keyed("a room", {
  mean: quantity(celsius, { least: -40, most: 80 }).default(25),
  swing: quantity(kelvins, { least: 0, most: 40 }).default(0),
  warmest: timeOfDay.default(54_000_000_000),
});

const FOREVER = 366 * 86_400;

export const visitorsSchema = keyed("visitors", {
  stay: micros(duration, { above: 0, most: FOREVER }).default(300_000_000),
  returns: z
    .array(micros(duration, { above: 0, most: FOREVER }), { error: () => "a list of durations, such as [10 min, 1 h]" })
    .max(1000, { error: () => "at most 1000 return times" })
    .default([600_000_000, 1_800_000_000, 3_600_000_000, 86_400_000_000]),
});

export const supplySchema = keyed("a supply", {
  volts: quantity(volts, { above: 0, most: 60 }).default(12),
  limit: quantity(amps, { above: 0, most: 1000 }).optional(),
  regulated: z.boolean({ error: () => "true or false" }).default(true),
  glitches: z
    .number({ error: () => "stray pulses per hour and board, a number from 0 to 100000" })
    .min(0, { error: () => "stray pulses per hour and board, a number from 0 to 100000" })
    .max(100_000, { error: () => "stray pulses per hour and board, a number from 0 to 100000" })
    .default(0),
});

const lampSchema = keyed("a kind of lamp", {
  amps: quantity(amps, { above: 0, most: 100 }).optional(),
  volts: quantity(volts, { above: 0, most: 60 }).optional(),
  watts: quantity(watts, { above: 0, most: 1000 }).optional(),
}).refine(({ amps: a, volts: v, watts: w }) => (a !== undefined) !== (v !== undefined && w !== undefined), {
  error: () => "either amps, or volts and watts",
});
export const lampsSchema = z.record(id, lampSchema, { error: () => "a mapping from lamp kind to its ratings" });

const coordinate = z
  .number({ error: () => "a number from -100000 to 100000" })
  .min(-1e5, { error: () => "a number from -100000 to 100000" })
  .max(1e5, { error: () => "a number from -100000 to 100000" });

const houseSchema = z.union(
  [
    z.null().transform(() => ({ name: undefined, zone: undefined, at: undefined })),
    keyed("a house", {
      name: text(80).optional(),
      zone: id.optional(),
      at: z.tuple([coordinate, coordinate], { error: () => "two picture coordinates, such as [40, 120]" }).optional(),
    }),
  ],
  { error: () => "a mapping with name, zone, at (all optional)" },
);
export const housesSchema = z.record(id, houseSchema, { error: () => "a mapping from house to its name, zone, at" });

// ---- promises ----

const share = quantity(ratio, { least: 0, most: 1 });
const span = <Bound extends z.ZodType<number>>(kind: Bound) =>
  keyed("a range", { from: kind.optional(), to: kind.optional() })
    .refine(({ from, to }) => from !== undefined || to !== undefined, { error: () => "from, to, or both" })
    .refine(({ from, to }) => from === undefined || to === undefined || from <= to, {
      path: ["to"],
      error: () => "an upper end not below the lower one",
    });
const count = z.number({ error: () => "a number" }).min(0, { error: () => "a number of at least 0" });
const seconds = quantity(duration, { least: 0, most: FOREVER });

export const promiseSchema = keyed("a promise", {
  step: span(seconds).optional(),
  sceneLasts: span(seconds).optional(),
  litHouses: span(count).optional(),
  darkSpell: keyed("a limit", { atMost: seconds }).optional(),
  anyHour: keyed("a limit", { atLeast: count }).optional(),
  effectiveScenes: keyed("a limit", { atLeast: count }).optional(),
  repeatOnReturn: keyed("a limit", { after: quantity(duration, { above: 0, most: FOREVER }), atMost: share }).optional(),
  repeatWithinStay: keyed("a limit", { stay: quantity(duration, { above: 0, most: FOREVER }), atMost: share }).optional(),
  zoneLit: keyed("a limit", { zone: id, atLeast: share }).optional(),
  ratings: word("within").optional(),
}).refine((promise) => Object.values(promise).filter((value) => value !== undefined).length === 1, {
  error: () => "exactly one promise an entry: put each on a line of its own, beginning with -",
});
export const promisesSchema = z.array(promiseSchema, { error: () => "a list of promises" });

export const spreadSchema = keyed("a spread", { shape: word("rectangular", "normal").default("rectangular") });

export const titleSchema = text(200);
export const seedSchema = z
  .union([text(200), z.number()], { error: () => "any text" })
  .transform(String)
  .default("lampdrift");

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
  boards: z.record(id, boardSchema, { error: () => "a mapping from board to its timer, counter, outputs" }),
  promises: promisesSchema.optional(),
  spread: spreadSchema.optional(),
});
