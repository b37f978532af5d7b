/** Whether what was built is what the sources say now. */
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

export const project = fileURLToPath(new URL("../", import.meta.url));

/** What the compiler notes about the last build: the files that it read, with the digests of their texts. */
interface BuildInfo {
  readonly fileNames: readonly string[];
  readonly fileInfos: readonly (string | { readonly version: string })[];
}

/** Throws an error that names the first source that `dist` was not made from. By content: what only has a new date is the same. */
export function refuseStaleBuild(): void {
  const info = join(project, "dist/.tsbuildinfo");
  const refuse = (why: string): never => {
    throw new Error(`${why}; the tests run what is built, so build first: npm run build`);
  };
  if (!existsSync(info)) return refuse("there is no dist");
  const { fileNames, fileInfos } = JSON.parse(readFileSync(info, "utf8")) as BuildInfo;
  const built = new Map(
    fileNames.map((name, i) => {
      const one = fileInfos[i]!;
      return [resolve(project, "dist", name), typeof one === "string" ? one : one.version];
    }),
  );
  for (const room of ["sim", "reports"]) {
    for (const name of readdirSync(join(project, room), { recursive: true, encoding: "utf8" })) {
      if (!name.endsWith(".ts")) continue;
      const path = join(project, room, name);
      const digest = createHash("sha256").update(readFileSync(path)).digest("hex");
      if (built.get(path) !== digest) return refuse(`dist is older than ${room}/${name}`);
    }
  }
  // the bundle is made after everything else
  const bundle = join(project, "dist/reports/live/bundle.js");
  if (!existsSync(bundle) || statSync(bundle).mtimeMs < statSync(info).mtimeMs) refuse("dist/reports/live/bundle.js is older than the rest of dist");
}
