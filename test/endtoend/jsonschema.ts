/** As much of JSON Schema (draft 2020-12) as the schema of the scenario file uses; any other keyword is an error. */
export type Schema = Readonly<Record<string, unknown>>;

type Check = (limit: unknown, value: unknown, schema: Schema, at: string) => string[];

const said = (ok: boolean, at: string, what: string): string[] => (ok ? [] : [`${at}: ${what}`]);
const isMapping = (value: unknown): value is Record<string, unknown> => typeof value === "object" && value !== null && !Array.isArray(value);

const TYPES: Readonly<Record<string, (value: unknown) => boolean>> = {
  object: isMapping,
  array: Array.isArray,
  string: (value) => typeof value === "string",
  number: (value) => typeof value === "number",
  integer: Number.isInteger,
  boolean: (value) => typeof value === "boolean",
  null: (value) => value === null,
};

/** Keywords that constrain nothing. */
const REMARKS = ["$schema", "title", "description", "examples", "default"];

const passing = (schemas: unknown, value: unknown): number =>
  (schemas as Schema[]).filter((schema) => faults(schema, value).length === 0).length;

const CHECKS: Readonly<Record<string, Check>> = {
  type: (types, value, _, at) => said([types].flat().some((type) => TYPES[type as string]!(value)), at, `not of type ${String(types)}`),
  const: (wanted, value, _, at) => said(value === wanted, at, `not ${String(wanted)}`),
  enum: (words, value, _, at) => said((words as unknown[]).includes(value), at, "none of the words"),
  minimum: (limit, value, _, at) => said(typeof value !== "number" || value >= (limit as number), at, "too small"),
  maximum: (limit, value, _, at) => said(typeof value !== "number" || value <= (limit as number), at, "too large"),
  minLength: (limit, value, _, at) => said(typeof value !== "string" || value.length >= (limit as number), at, "too short"),
  maxLength: (limit, value, _, at) => said(typeof value !== "string" || value.length <= (limit as number), at, "too long"),
  pattern: (pattern, value, _, at) => said(typeof value !== "string" || new RegExp(pattern as string, "u").test(value), at, "of another form"),
  minItems: (limit, value, _, at) => said(!Array.isArray(value) || value.length >= (limit as number), at, "too few"),
  maxItems: (limit, value, _, at) => said(!Array.isArray(value) || value.length <= (limit as number), at, "too many"),
  prefixItems: (schemas, value, _, at) =>
    Array.isArray(value) ? (schemas as Schema[]).flatMap((schema, i) => (i < value.length ? faults(schema, value[i], `${at}[${i}]`) : [])) : [],
  items: (items, value, schema, at) => {
    const from = Array.isArray(schema["prefixItems"]) ? schema["prefixItems"].length : 0;
    return Array.isArray(value) ? value.slice(from).flatMap((item, i) => faults(items as Schema, item, `${at}[${from + i}]`)) : [];
  },
  required: (keys, value, _, at) => (isMapping(value) ? (keys as string[]).flatMap((key) => said(Object.hasOwn(value, key), at, `${key} missing`)) : []),
  properties: (properties, value, _, at) =>
    isMapping(value)
      ? Object.entries(properties as Record<string, Schema>).flatMap(([key, schema]) => (Object.hasOwn(value, key) ? faults(schema, value[key], `${at}.${key}`) : []))
      : [],
  propertyNames: (names, value, _, at) => (isMapping(value) ? Object.keys(value).flatMap((key) => faults(names as Schema, key, `${at}.${key}`)) : []),
  additionalProperties: (rest, value, schema, at) => {
    const known = Object.keys(schema["properties"] ?? {});
    const others = isMapping(value) ? Object.keys(value).filter((key) => !known.includes(key)) : [];
    return others.flatMap((key) => {
      if (typeof rest === "boolean") return said(rest, `${at}.${key}`, "unknown key");
      return faults(rest as Schema, isMapping(value) ? value[key] : undefined, `${at}.${key}`);
    });
  },
  anyOf: (schemas, value, _, at) => said(passing(schemas, value) > 0, at, "none of the forms"),
  oneOf: (schemas, value, _, at) => said(passing(schemas, value) === 1, at, "not exactly one of the forms"),
};

/** What in a value does not fit a schema, each with its place. Throws for a keyword that is not known here. */
export function faults(schema: Schema, value: unknown, at = ""): string[] {
  return Object.entries(schema).flatMap(([keyword, limit]) => {
    if (REMARKS.includes(keyword)) return [];
    const check = CHECKS[keyword];
    if (check === undefined) throw new Error(`the JSON Schema keyword ${keyword} at ${at} is not known here`);
    return check(limit, value, schema, at);
  });
}
