/** Whether what was built is what the sources say now. */
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export const project = fileURLToPath(new URL("../", import.meta.url));

/** Throws an error that names the first source that `dist` was not made from. By content: what only has a new date is the same. */
export function refuseStaleBuild(): void {
  const refuse = (why: string): never => {
    throw new Error(`${why}; the tests run what is built, so build first: npm run build`);
  };
  // what a build notes at its end, of the beginning: all that it read, with digests
  const note = join(project, "dist/made-of.json");
  if (!existsSync(note)) return refuse("there is no whole dist");
  const built = new Map(Object.entries(JSON.parse(readFileSync(note, "utf8")) as Record<string, string>));
  const now = ["sim", "reports"].flatMap((room) => readdirSync(join(project, room), { recursive: true, encoding: "utf8" }).map((name) => `${room}/${name}`));
  for (const name of new Set([...now.filter((one) => one.endsWith(".ts")), ...built.keys()])) {
    const path = join(project, name);
    const digest = existsSync(path) ? createHash("sha256").update(readFileSync(path)).digest("hex") : "none";
    // the tests' own files are built for bench and fuzz alone
    if (built.get(name) !== digest && !name.startsWith("test/")) refuse(`dist is older than ${name}`);
  }
}
