import { writeFile } from "node:fs/promises";
import { scenarioJsonSchema } from "../sim/scenario/read.js";

/** `npm run schema`: writes the JSON Schema beside the demo scenarios, for editors. */
export function schemaText(): string {
  return `${JSON.stringify(scenarioJsonSchema(), null, 2)}\n`;
}

export const schemaFile = new URL("../../scenarios/scenario.schema.json", import.meta.url);

if (process.argv[1] === import.meta.filename) await writeFile(schemaFile, schemaText());
