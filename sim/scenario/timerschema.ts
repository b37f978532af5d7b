import * as z from "zod";
import { partAccepted, parsePartMarking, parseTolerance, toleranceAccepted } from "../units/part.js";
import { CHIP_KINDS } from "../parts/chips.js";
import { amps, drift, duration, farads, ohms, ratio, tempco, volts } from "../units/quantities.js";
import type { Quantity } from "../units/quantity.js";
import { id, keyed, quantity, whole, word } from "./fields.js";

/** The timers of the scenario file, and the parts they are made of. */

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

/** Within these limits no part can reach zero at any room temperature that the room section accepts. */
const tempcoField = quantity(tempco, { least: -0.01, most: 0.01 });

const partKeys = { tolerance: tolerance.optional(), tempco: tempcoField.optional() };

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
const capacitor = part(farads, { leakage: leakage.optional(), volts: quantity(volts, { above: 0, most: 1000 }).optional() });

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
      chip: word(...CHIP_KINDS).optional(),
      divide: whole(1, 2 ** 24).default(1),
      discharge: word("diode", "none").default("none"),
      ...clocked,
    }),
    keyed("a measured timer", {
      kind: z.literal("measured"),
      step,
      reading: quantity(duration, { least: 0, most: 3600 }).default(0),
      tempco: tempcoField.default(0),
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
