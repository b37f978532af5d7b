import * as z from "zod/mini";
import type { Counter } from "../model/scenario.js";
import { ratio, thermalResistance } from "../units/quantities.js";
import { id, keyed, place, quantity, whole, word } from "./fields.js";
import { timerSchema } from "./timerschema.js";
import { listed } from "../units/text.js";

/** The boards of the scenario file: counters, outputs, drivers. */

// ---- counters ----

const STEPS_LIMIT = 65_536;
/** Stages of a Johnson counter: at each of its steps nearly as many outputs may be on. */
const STAGES_LIMIT = 1024;
const powerUp = z._default(word("reset", "anywhere"), "reset");
const rowAccepted = "rows of output numbers, such as [[0, 1], [2], []]";
const rows = (least: number) =>
  z
    .array(z.array(whole(0, 255)), { error: () => rowAccepted })
    .check(
      z.minLength(least, { error: () => `at least ${least} rows` }),
      z.maxLength(4096, { error: () => "at most 4096 rows" }),
    );

/** The keys of each kind of counter. One that is left out does not compile. */
const COUNTERS = {
  ring: keyed("a ring counter", { kind: z.literal("ring"), steps: whole(2, STEPS_LIMIT), powerUp }),
  johnson: keyed("a Johnson counter", { kind: z.literal("johnson"), stages: whole(1, STAGES_LIMIT), powerUp }),
  binary: keyed("a binary counter", { kind: z.literal("binary"), bits: whole(1, 16), powerUp }),
  lfsr: keyed("a shift register counter", {
    kind: z.literal("lfsr"),
    bits: whole(2, 16),
    taps: z.optional(
      z
        .array(whole(1, 16), { error: () => "a list of stage numbers, such as [4, 3]" })
        .check(z.minLength(1, { error: () => "at least one tap" })),
    ),
    powerUp,
  }),
  table: keyed("a table counter", {
    kind: z.literal("table"),
    steps: rows(1),
    hold: z.optional(
      z.array(quantity(ratio, { above: 0, most: 1e6 }), { error: () => "one factor a step, such as [1, 2, 1]" }),
    ),
    powerUp,
  }),
  shuffle: keyed("a shuffle counter", { kind: z.literal("shuffle"), steps: rows(2), powerUp }),
} satisfies { readonly [Kind in Counter["kind"]]: z.ZodMiniType<{ kind: Kind }> };

type AnyCounter = (typeof COUNTERS)[Counter["kind"]];

export const counterSchema = z.discriminatedUnion("kind", Object.values(COUNTERS) as [AnyCounter, ...AnyCounter[]], {
  error: () => `a counter: a mapping with kind ${listed(Object.keys(COUNTERS), "or")}`,
});

// ---- boards ----

const load = z.union(
  [
    z.pipe(
      id,
      z.transform((house) => ({ house, lamps: 1, lamp: undefined })),
    ),
    keyed("a load", { house: id, lamps: z._default(whole(1, 1000), 1), lamp: z.optional(id) }),
  ],
  { error: () => "a house, or a mapping with house, lamps, lamp" },
);

export const outputsSchema = z.record(
  z.string().check(z.regex(/^(0|[1-9]\d{0,4})$/, { error: () => "an output number: 0, 1, 2, …" })),
  z.union(
    [
      z.pipe(
        load,
        z.transform((one) => [one]),
      ),
      z.array(load),
    ],
    { error: () => "a house, or a list of houses" },
  ),
  { error: () => "a mapping from output number to house, or list of houses" },
);

export const thermal = quantity(thermalResistance, { above: 0, most: 1000 });

export const driverSchema = keyed("a driver", {
  kind: z._default(word("darlington-8", "mosfet"), "darlington-8"),
  thermal: z.optional(thermal),
});

export const boardSchema = keyed("a board", {
  timer: timerSchema,
  counter: counterSchema,
  driver: z.optional(driverSchema),
  at: z.optional(place),
  outputs: outputsSchema,
});
