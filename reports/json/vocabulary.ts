import * as z from "zod/mini";
import { PROMISE_KINDS } from "../../sim/promises/kinds/index.js";

/** What the schemas of several commands have in common. */

/** A schema with words beside it, for those who read what is published. */
export function told<Schema extends z.ZodMiniType>(schema: Schema, description: string): Schema {
  // a schema of its own, so that one shape may be told in several ways
  const own = schema.clone();
  z.globalRegistry.add(own, { description });
  return own;
}

/** Shares are exact quotients, so that no rounding leads out of 0 … 1. */
export const share = (description: string) => told(z.number().check(z.gte(0), z.lte(1)), `${description}; a share, 0 to 1`);
export const seconds = (description: string) => told(z.number().check(z.gte(0)), `${description}; seconds`);
export const amount = (description: string) => told(z.number().check(z.gte(0)), description);
export const number = (description: string) => told(z.number(), description);
export const count = (description: string) => told(z.int().check(z.gte(0)), description);
/** Counted from 1. */
export const ordinal = (description: string) => told(z.int().check(z.gte(1)), description);
export const text = (description: string) => told(z.string(), description);
export const id = (description: string) => told(z.string().check(z.minLength(1)), `id of ${description}`);
export const truth = (description: string) => told(z.boolean(), description);

/** The key with which every object begins: what printed it. `format` goes up when a key changes its meaning. */
export const lampdrift = z.strictObject({
  version: text("version of the program"),
  format: told(z.literal(1), "goes up when a key changes its meaning; keys may be added without"),
});

export const scenario = z.strictObject({
  title: text("title of the display"),
  file: text("name of the file, as it was given"),
  seed: text("seed of the draws"),
});

export const promiseKind = told(z.enum(PROMISE_KINDS), "key of the promise in the scenario file");

/** A share found in a sample, with its interval. */
export const kept = {
  kept: count("builds that keep it"),
  builds: count("builds looked at"),
  share: share("kept out of builds"),
  low: share("lower end of the 95 % Wilson score interval"),
  high: share("upper end of it"),
};

export const quantiles = {
  p05: z.number(),
  p50: z.number(),
  p95: z.number(),
  min: z.number(),
  max: z.number(),
};

export const figureUnit = told(z.enum(["", "s", "share", "per hour"]), "what the numbers are in; empty: a number by itself");
