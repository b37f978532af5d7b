import { createRequire } from "node:module";

/** Version of this program, as package.json has it. */
export const VERSION = (createRequire(import.meta.url)("lampdrift/package.json") as { version: string }).version;
