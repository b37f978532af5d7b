import { writeFile } from "node:fs/promises";
import { scenarioJsonSchema } from "../sim/scenario/read.js";
import { printedJsonSchema, SHAPES } from "./json/shapes.js";

const text = (schema: unknown): string => `${JSON.stringify(schema, null, 2)}\n`;

/** The JSON Schemas beside the demo scenarios, by the name of the file: for editors, and for programs that read what is printed. */
export function schemaTexts(): ReadonlyMap<string, string> {
  const commands = Object.keys(SHAPES) as (keyof typeof SHAPES)[];
  return new Map([
    ["scenario.schema.json", text(scenarioJsonSchema())],
    ...commands.map((name): [string, string] => [`${name}.schema.json`, text(printedJsonSchema(name))]),
  ]);
}

/** `npm run schema`: writes them. */
async function writeSchemas(): Promise<void> {
  const folder = new URL("../../scenarios/", import.meta.url);
  for (const [name, schema] of schemaTexts()) await writeFile(new URL(name, folder), schema);
}

if (process.argv[1] === import.meta.filename) await writeSchemas();
