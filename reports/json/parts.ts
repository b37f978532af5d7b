import * as z from "zod/mini";
import { amount, lampdrift, number, ordinal, seconds, share, text, told } from "./vocabulary.js";

const range = z.strictObject({ from: seconds("fast end"), to: seconds("slow end") });
const limits = { minus: amount("largest shortfall, as a share of the value"), plus: amount("largest excess, as a share of the value") };
const resistor = z.strictObject({ ...limits, type: z.enum(["carbon", "metal"]) });

const choice = {
  ra: amount("ohms"),
  rb: amount("ohms"),
  trimmer: z.strictObject({ value: amount("ohms"), in: told(z.enum(["ra", "rb"]), "the resistor that it is in series with") }),
  c: amount("farads"),
  chip: z.enum(["bipolar", "cmos", "LMC555", "TLC555", "ICM7555", "ideal"]),
  divide: ordinal("timer periods in one step"),
  nominal: told(range, "what the knob reaches with nominal values"),
  corners: told(range, "what it reaches for sure at every corner of tolerance and temperature, without leakage"),
  leakageBudget: number("leakage of the capacitor, ampere, up to which the corners hold"),
  capacitor: z.strictObject({
    type: z.enum(["film", "electrolytic", "low-leakage", "tantalum"]),
    ...limits,
    publishedLeakage: amount("the limit that makers print at 20 °C, ampere"),
    warmLeakage: amount("the same at the room's warmest, ampere"),
    ratedVolts: amount("volts"),
  }),
  tolerances: z.strictObject({ ra: resistor, rb: resistor, trimmer: z.strictObject(limits) }),
  trackEnd: amount("what the end of the track leaves in circuit at most, ohms"),
  knob: z.strictObject({
    travel: number("share of the travel between the wanted times"),
    secondsPerDegree: number("what a degree of turning changes, seconds"),
  }),
  spare: number("how much further than asked the nearer end reaches for sure, as a share"),
  score: share("the larger the more comfortable"),
};

export const parts = z.strictObject({
  lampdrift,
  choices: told(z.array(z.strictObject({ ...choice, reasons: z.array(text("a sentence")) })), "best first"),
  nearMisses: told(z.array(z.strictObject({ ...choice, why: text("why it does not do") })), "nearest first"),
  reason: z.nullable(text("why there are no choices")),
  assumptions: z.array(text("what was taken for granted")),
});
