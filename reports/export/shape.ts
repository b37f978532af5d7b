import * as z from "zod/mini";

const told = <T extends z.ZodMiniType>(schema: T, description: string): T => {
  z.globalRegistry.add(schema, { description });
  return schema;
};

const id = z.string().check(z.minLength(1));
const seconds = told(z.number().check(z.minimum(0)), "seconds since Monday 00:00");
const number = z.int().check(z.minimum(1));

/** What `lampdrift export --as json` writes. `format` goes up when a key changes its meaning. */
const record = z.object({
  lampdrift: z.object({ version: z.string(), format: z.literal(1) }),
  scenario: z.object({ title: z.string(), file: z.string(), seed: z.string() }),
  houses: z.array(z.object({ id, name: z.string(), zone: z.nullable(z.string()) })),
  openings: z
    .array(
      z.object({
        opening: number,
        fromSeconds: seconds,
        untilSeconds: seconds,
        spells: told(z.array(z.tuple([seconds, number])), "start and scene of each; it ends where the next begins, the last at closing"),
      }),
    )
    .check(z.minLength(1)),
  scenes: z.array(z.object({ scene: number, houses: told(z.array(id), "ids of those lit") })),
});

/** The JSON Schema of an exported record. Keys may be added to a record, so it forbids none. */
export function recordJsonSchema(): object {
  return { title: "lampdrift export --as json", ...z.toJSONSchema(record, { io: "input" }) };
}
