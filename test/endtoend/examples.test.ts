/** The examples of the API reference, run against the library as it is built. */
import { readdirSync, readFileSync } from "node:fs";
import { mkdir, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { transform } from "esbuild";
import { describe, expect, test } from "vitest";
import * as library from "../../sim/index.js";
import { program, project, scratch } from "./command.js";

interface Documented {
  readonly name: string;
  /** The doc comment, without its stars. */
  readonly text: string;
}

/** Every exported function of the library's rooms with its doc comment, which begins where none is open yet. */
const documented: readonly Documented[] = readdirSync(join(project, "sim"), { recursive: true, encoding: "utf8" })
  .filter((path) => path.endsWith(".ts"))
  .flatMap((path) => [...readFileSync(join(project, "sim", path), "utf8").matchAll(/\/\*\*((?:(?!\*\/)[^])*)\*\/\nexport (?:async )?function (\w+)/g)])
  .map(([, comment, name]) => ({ name: name!, text: comment!.replace(/^ *\* ?/gm, "") }));

const isClass = (value: unknown): boolean => typeof value === "function" && /^class\b/.test(Function.prototype.toString.call(value));
const functions = Object.entries(library).flatMap(([name, value]) => (typeof value === "function" && !isClass(value) ? [name] : []));

/** The example of a comment, and what it says that it prints: what follows // on its lines that print. */
function exampleIn(text: string): { code: string; prints: string[] } | null {
  const [, code] = /@example\s+```ts\n([^]*?)```/.exec(text) ?? [];
  return code === undefined ? null : { code, prints: [...code.matchAll(/console\.log\(.*\); \/\/ (.*)$/gm)].map(([, said]) => said!) };
}

const told = functions.map((name) => ({ name, all: documented.filter((one) => one.name === name) }));

describe("each function of the library", () => {
  test.each(told)("$name says what it takes and throws, and has an example", ({ all }) => {
    expect(all).toHaveLength(1);
    const [{ text }] = all as [Documented];
    expect(text).toMatch(/\b[Tt]hrows\b/);
    expect(exampleIn(text)).not.toBeNull();
  });
});

/** What the compiler says of the examples, as programs that have the library among their packages. */
async function wronglyTyped(root: string, examples: readonly { readonly name: string; readonly code: string }[]): Promise<string> {
  await mkdir(join(root, "node_modules"));
  await symlink(project, join(root, "node_modules/lampdrift"));
  await symlink(join(project, "node_modules/fast-check"), join(root, "node_modules/fast-check"));
  for (const { name, code } of examples) await writeFile(join(root, `${name}.mts`), code);
  const compilerOptions = { strict: true, noUncheckedIndexedAccess: true, module: "nodenext", target: "es2023", lib: ["es2023", "dom"], types: [], skipLibCheck: true, noEmit: true };
  await writeFile(join(root, "tsconfig.json"), JSON.stringify({ compilerOptions, include: ["*.mts"] }));
  const { stdout, stderr } = await program(process.execPath, [join(project, "node_modules/typescript-7/bin/tsc"), "-p", root, "--pretty", "false"]);
  return stdout + stderr;
}

test("the examples compile, run, and print what they say", async () => {
  const root = await scratch();
  const examples = told.flatMap(({ name, all }) => {
    const example = exampleIn(all[0]?.text ?? "");
    return example === null ? [] : [{ name, ...example }];
  });
  expect(examples).toHaveLength(functions.length);
  expect(await wronglyTyped(root, examples)).toBe("");
  // all in one process, each by itself: what it prints is kept apart
  const parts = examples.map(
    ({ name, code }) => `
      await (async (console) => {
        ${code.replace(/^import (\{.*\}) from (".*");$/gm, "const $1 = await import($2);").replace(/^import (\w+) from (".*");$/gm, "const { default: $1 } = await import($2);")}
      })(kept(${JSON.stringify(name)}));`,
  );
  const script = `
    import { format } from "node:util";
    const printed: Record<string, string[]> = {};
    const kept = (name: string) => ({ log: (...values: unknown[]) => void (printed[name] ??= []).push(format(...values)) });
    ${parts.join("\n")}
    process.stdout.write(JSON.stringify(printed));`;
  const { code } = await transform(script, { loader: "ts", format: "esm", target: "es2023" });
  const file = join(root, "examples.mjs");
  await writeFile(file, code);
  // "lampdrift" is this project itself, for whatever is read from here
  const { status, stdout, stderr } = await program("sh", ["-c", '"$NODE" --input-type=module < "$FILE"'], { cwd: project, env: { NODE: process.execPath, FILE: file } });
  expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  const said = examples.filter(({ prints }) => prints.length > 0);
  expect(JSON.parse(stdout)).toEqual(Object.fromEntries(said.map(({ name, prints }) => [name, prints])));
});
