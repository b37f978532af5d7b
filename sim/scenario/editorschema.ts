import * as z from "zod/mini";
import { scenarioSchema } from "./schema.js";

type Schema = Readonly<Record<string, unknown>>;

/**
 * The JSON Schema of the scenario file, for editors that complete and check: a whole scenario, or a variant that names
 * its base. In a variant nothing else is required, and null takes away what the base has.
 * Throws nothing.
 *
 * @example
 * ```ts
 * import { scenarioJsonSchema } from "lampdrift";
 *
 * const schema = scenarioJsonSchema() as { $schema: string };
 * console.log(schema.$schema); // https://json-schema.org/draft/2020-12/schema
 * ```
 */
export function scenarioJsonSchema(): unknown {
  const whole = z.toJSONSchema(scenarioSchema, { io: "input", unrepresentable: "any" }) as Schema;
  const { $schema, ...scenario } = whole;
  const variant = { ...loosened(scenario), required: ["base"] };
  return { $schema, title: "lampdrift scenario, format 1", anyOf: [scenario, variant] };
}

/** The schema with nothing required, so that a part of a mapping fits too, and null in the place of any value. */
function loosened(schema: Schema): Schema {
  const entries = Object.entries(schema).flatMap(([keyword, value]): [string, unknown][] => {
    switch (keyword) {
      case "required":
        return [];
      case "properties":
        return [[keyword, Object.fromEntries(Object.entries(value as Schema).map(([key, part]) => [key, orNull(part as Schema)]))]];
      case "additionalProperties":
        return [[keyword, typeof value === "boolean" ? value : orNull(value as Schema)]];
      case "oneOf":
        // without its required kind a mapping may fit several
        return [["anyOf", (value as Schema[]).map(loosened)]];
      case "anyOf":
        return [[keyword, (value as Schema[]).map(loosened)]];
      default:
        return [[keyword, value]];
    }
  });
  return Object.fromEntries(entries);
}

function orNull(schema: Schema): Schema {
  return { anyOf: [loosened(schema), { type: "null" }] };
}
