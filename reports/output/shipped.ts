import { createRequire } from "node:module";
import { dirname, join } from "node:path";

/** Path of a file that comes with the program, such as "scenarios/starter.yaml", wherever it is installed or compiled to. */
export function shippedFile(name: string): string {
  return join(dirname(createRequire(import.meta.url).resolve("lampdrift/package.json")), name);
}
