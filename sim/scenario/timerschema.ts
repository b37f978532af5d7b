import * as z from "zod/mini";
import type { Timer } from "../model/timer.js";
import { partAccepted, parsePartMarking, parseTolerance, toleranceAccepted } from "../units/part.js";
import { CHIP_KINDS } from "../parts/chips.js";
import { amps, drift, duration, farads, ohms, ratio, tempco, volts } from "../units/quantities.js";
import type { Quantity } from "../units/quantity.js";
import { listed } from "../units/text.js";
import { id, keyed, quantity, whole, word } from "./fields.js";

/** The timers of the scenario file, and the parts they are made of. */

// ---- parts ----

const partTypes = ["carbon", "metal", "film", "electrolytic", "low-leakage", "tantalum"] as const;

const tolerance = z
  .pipe(
    z.union([z.string(), z.number()], { error: () => toleranceAccepted }),
    z.transform((written, context) => {
      const parsed = parseTolerance(written);
      if (parsed !== null) return parsed;
      context.issues.push({ code: "custom", message: toleranceAccepted, input: context.value });
      return z.NEVER;
    }),
  )
  .register(z.globalRegistry, { description: toleranceAccepted });

const leakage = z.union(
  [
    quantity(amps, { least: 0 }),
    keyed("a leakage", { typical: quantity(amps, { least: 0 }), limit: quantity(amps, { least: 0 }) }).check(
      z.refine(({ typical, limit }) => typical <= limit, {
        path: ["typical"],
        error: () => "a typical leakage not above the limit",
      }),
    ),
  ],
  { error: () => 'a leakage such as "0.5 uA", or a mapping with typical and limit' },
);

/** Within these limits no part can reach zero at any room temperature that the room section accepts. */
const tempcoField = quantity(tempco, { least: -0.01, most: 0.01 });

const partKeys = { tolerance: z.optional(tolerance), tempco: z.optional(tempcoField) };

/** A part as text ("470 uF ±20 %") or as an object; both come out as the object's keys. */
function part<Keys extends z.core.$ZodLooseShape>(kind: Quantity, keys: Keys) {
  const accepted = partAccepted(kind);
  const marking = z
    .pipe(
      z.union([z.string(), z.number()], { error: () => accepted }),
      z.transform((written, context) => {
        const parsed = parsePartMarking(String(written), kind);
        if (parsed !== null) return parsed;
        context.issues.push({ code: "custom", message: accepted, input: context.value });
        return z.NEVER;
      }),
    )
    .register(z.globalRegistry, { description: accepted });
  const spelledOut = keyed("a part", { value: marking, ...partKeys, type: z.optional(word(...partTypes)), ...keys });
  return z.union(
    [
      z.pipe(
        marking,
        z.transform((value) => ({ value })),
      ),
      spelledOut,
    ],
    {
      error: () => `${accepted}, or a mapping with value, tolerance, tempco, type`,
    },
  );
}

const resistor = part(ohms, {});
const capacitor = part(farads, {
  leakage: z.optional(leakage),
  volts: z.optional(quantity(volts, { above: 0, most: 1000 })),
});

// ---- timers ----

const step = quantity(duration, { least: 1e-3, most: 1e7 });

/** Where the knob stands; written in the trimmer or beside it. */
const knob = {
  dial: z.optional(quantity(ratio, { least: 0, most: 1 })),
  setTo: z.optional(step),
  reading: z.optional(quantity(duration, { least: 0, most: 3600 })),
};

const trimmer = keyed("a trimmer", {
  value: part(ohms, {}),
  in: word("ra", "rb"),
  taper: z._default(word("linear", "log"), "linear"),
  ...knob,
});

const clocked = {
  jitter: z._default(quantity(ratio, { least: 0, most: 0.2 }), 0),
  drift: z._default(quantity(drift, { least: -1e-3, most: 1e-3 }), 0),
};

/** The keys of each kind of timer. One that is left out does not compile. */
const TIMERS = {
  astable: keyed("an astable timer", {
    kind: z.literal("astable"),
    ra: resistor,
    rb: resistor,
    c: capacitor,
    trimmer: z.optional(trimmer),
    ...knob,
    chip: z.optional(word(...CHIP_KINDS)),
    divide: z._default(whole(1, 2 ** 24), 1),
    discharge: z._default(word("diode", "none"), "none"),
    ...clocked,
  }),
  measured: keyed("a measured timer", {
    kind: z.literal("measured"),
    step,
    reading: z._default(quantity(duration, { least: 0, most: 3600 }), 0),
    tempco: z._default(tempcoField, 0),
    ...clocked,
  }),
  quartz: keyed("a quartz timer", {
    kind: z.literal("quartz"),
    step,
    tolerance: z._default(quantity(ratio, { least: 0, most: 0.1 }), 0),
    ...clocked,
  }),
  carry: keyed("a carry timer", { kind: z.literal("carry"), from: id }),
} satisfies { readonly [Kind in Timer["kind"]]: z.ZodMiniType<{ kind: Kind }> };

type AnyTimer = (typeof TIMERS)[Timer["kind"]];

export const timerSchema = z.discriminatedUnion("kind", Object.values(TIMERS) as [AnyTimer, ...AnyTimer[]], {
  error: () => `a timer: a mapping with kind ${listed(Object.keys(TIMERS), "or")}`,
});
