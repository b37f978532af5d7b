import type * as z from "zod/mini";
import { scenarioSchema } from "../../sim/scenario/schema.js";

/** The parts of a schema's definition that lead to the keys in it. */
interface Definition {
  readonly shape?: Readonly<Record<string, Schema>>;
  readonly innerType?: Schema;
  readonly in?: Schema;
  readonly options?: readonly Schema[];
  readonly element?: Schema;
  readonly valueType?: Schema;
}
type Schema = z.core.$ZodType;

/** Keys that the scenario file knows at a place of its text, by the schema that reads it; none inside lists of values or text. */
export function knownKeys(text: string, cursor: number): string[] {
  let places: readonly Schema[] = [scenarioSchema];
  for (const key of pathAt(text, cursor)) places = places.flatMap((schema) => below(schema, key));
  return [...new Set(places.flatMap(keysOf))];
}

function below(schema: Schema, key: string): Schema[] {
  return mappings(schema).flatMap(({ shape, valueType }) => {
    const next = shape?.[key] ?? valueType;
    return next === undefined ? [] : [next];
  });
}

function keysOf(schema: Schema): string[] {
  return mappings(schema).flatMap(({ shape }) => Object.keys(shape ?? {}));
}

/** The mappings that may stand where a schema does, lists looked into. */
function mappings(schema: Schema): Definition[] {
  const definition = schema._zod.def as Definition;
  const { shape, valueType, innerType, in: from, options, element } = definition;
  if (shape !== undefined || valueType !== undefined) return [definition];
  return [innerType, from, element, ...(options ?? [])].flatMap((inner) => (inner === undefined ? [] : mappings(inner)));
}

const KEY = /^(\s*(?:- +)*)(?:"([^"]*)"|([^\s:#"'{}[\],-][^:#{}[\],]*)):(?=\s|$)/;

/** Keys that lead to where the cursor is, by indentation; in braces, by those that are still open on the line. */
function pathAt(text: string, cursor: number): string[] {
  const lines = text.slice(0, cursor).split("\n");
  const line = lines.pop()!;
  const rest = text.slice(cursor).split("\n", 1)[0]!;
  const path: string[] = [];
  let indent = /^\s*(?:- +)*/.exec(line + rest)![0].length;
  if ((line + rest).trim() === "") indent = line.length;
  for (const above of lines.reverse()) {
    const found = KEY.exec(above);
    if (found === null || found[1]!.length >= indent) continue;
    indent = found[1]!.length;
    path.unshift(found[2] ?? found[3]!);
    if (indent === 0) break;
  }
  return [...path, ...openBraces(line)];
}

function openBraces(line: string): string[] {
  const open: string[] = [];
  for (const [, key = "", brace] of line.matchAll(/(?:([^\s:{}[\],]+): *)?([{}])/g)) {
    if (brace === "{") open.push(key);
    else open.pop();
  }
  return open.filter((key) => key !== "");
}
