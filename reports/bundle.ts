import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { build, type Plugin } from "esbuild";
import { withoutUncalled } from "./uncalled.js";

/** `npm run build`: the page's script as one file, and beside it the licences of the packages that are in it. */

const root = join(import.meta.dirname, "../..");
const out = join(root, "dist/reports/live");
const local = (file: string): string => join(root, "reports/live", file);

/** What a module of the YAML library exports. */
function namesIn(script: string): string[] {
  return /^export \{ (.*) \};$/m.exec(script)![1]!.split(", ");
}

/**
 * The page reads YAML 1.2 and writes none: of the tags of YAML 1.1, in which no scenario is written, it has none, the schema of
 * that is the one of 1.2, and what would write YAML (also a key that is a mapping, which is refused before) writes nothing.
 */
const onlyReadingYaml: Plugin = {
  name: "only-reading-yaml",
  setup: (bundler) => {
    bundler.onLoad({ filter: /yaml.browser.dist.stringify.\w+\.js$/ }, async ({ path }) => {
      const names = namesIn(await readFile(path, "utf8"));
      return { contents: `export const ${names.map((name) => `${name} = () => ({})`).join(", ")};` };
    });
    bundler.onLoad({ filter: /yaml.browser.dist.schema.yaml-1\.1.\w+\.js$/ }, async ({ path }) => {
      const own = await readFile(path, "utf8");
      // a mapping looks for merge keys whatever its version
      if (path.endsWith("merge.js")) return { contents: own };
      if (path.endsWith("schema.js")) return { contents: 'export { schema } from "../core/schema.js";' };
      return { contents: `export const ${namesIn(own).map((name) => `${name} = undefined`).join(", ")};` };
    });
  },
};

const { metafile } = await build({
  entryPoints: [local("main.ts")],
  absWorkingDir: root,
  outfile: join(out, "bundle.js"),
  bundle: true,
  minify: true,
  format: "iife",
  target: "es2022",
  legalComments: "none",
  alias: { "d3-format": local("noformats.ts"), "d3-interpolate": local("numbersonly.ts") },
  plugins: [withoutUncalled, onlyReadingYaml],
  metafile: true,
  logLevel: "warning",
});

/** Folders of the packages of which something went into the script. */
const inScript = Object.values(metafile.outputs).flatMap(({ inputs }) => Object.keys(inputs).filter((file) => inputs[file]!.bytesInOutput > 0));
const folders = [...new Set(inScript.flatMap((file) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file)?.[0] ?? []))].sort();

/** The licence of a package: a file of its own, or the part of its README that is headed so. */
async function licenceIn(folder: string): Promise<string> {
  const files = await readdir(folder);
  const read = async (file: string): Promise<string> => (await readFile(join(folder, file), "utf8")).replaceAll("\r\n", "\n").trim();
  const own = files.find((file) => /^licen[cs]e(\.\w+)?$/i.test(file));
  if (own !== undefined) return read(own);
  const readme = files.find((file) => /^readme(\.\w+)?$/i.test(file));
  const part = readme === undefined ? undefined : /^(?:#+ *)?licen[cs]e\b.*\n(?:[-=]+\n)?([^]*)$/im.exec(await read(readme))?.[1];
  if (part === undefined) throw new Error(`${folder} does not say under which licence it stands, which the page must`);
  return part.trim();
}

/** Licence texts, each once, behind the names of the packages that stand under it. */
const texts = new Map<string, string[]>();
for (const folder of folders) {
  const { name, version } = JSON.parse(await readFile(join(root, folder, "package.json"), "utf8")) as { name: string; version: string };
  const text = await licenceIn(join(root, folder));
  texts.set(text, [...(texts.get(text) ?? []), `${name} ${version}`]);
}
const notices = Array.from(texts, ([text, names]) => `${names.join(", ")}\n\n${text}`);
await writeFile(join(out, "notices.txt"), `${notices.join("\n\n----\n\n")}\n`);
