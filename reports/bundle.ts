import { copyFile, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { join, relative } from "node:path";
import { build, type BuildOptions, type Plugin } from "esbuild";

/**
 * `npm run build`: the page's script as one file, and the command in the few files that each of its commands opens; beside
 * each the licences of the packages that are in it.
 */

const root = join(import.meta.dirname, "../..");
const dist = (file: string): string => join(root, "dist", file);
const live = (file: string): string => join(root, "reports/live", file);

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
    // its errors are told by their place and in words of our own, and nobody changes values while they are read
    bundler.onLoad({ filter: /yaml.browser.dist.errors\.js$/ }, async ({ path }) => {
      const own = await readFile(path, "utf8");
      return { contents: own.replace(/^const prettifyError = [^]*?\n\};$/m, "const prettifyError = () => () => undefined;") };
    });
    const nobodys = "export const applyReviver = () => undefined;";
    bundler.onLoad({ filter: /yaml.browser.dist.doc.applyReviver\.js$/ }, () => ({ contents: nobodys }));
    bundler.onLoad({ filter: /yaml.browser.dist.schema.yaml-1\.1.\w+\.js$/ }, async ({ path }) => {
      const own = await readFile(path, "utf8");
      // a mapping looks for merge keys whatever its version
      if (path.endsWith("merge.js")) return { contents: own };
      if (path.endsWith("schema.js")) return { contents: 'export { schema } from "../core/schema.js";' };
      return { contents: `export const ${namesIn(own).map((name) => `${name} = undefined`).join(", ")};` };
    });
  },
};

/** Bundles, and gives the folders of the packages of which something went in. */
async function bundled(options: BuildOptions): Promise<string[]> {
  const { metafile } = await build({ absWorkingDir: root, bundle: true, legalComments: "none", logLevel: "warning", ...options, metafile: true });
  const used = Object.values(metafile.outputs).flatMap(({ inputs }) => Object.keys(inputs).filter((file) => inputs[file]!.bytesInOutput > 0));
  return [...new Set(used.flatMap((file) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file)?.[0] ?? []))].sort();
}

/** The licence of a package: a file of its own, or the part of its README that is headed so. */
async function licenceIn(folder: string): Promise<string> {
  const files = await readdir(folder);
  const read = async (file: string): Promise<string> => (await readFile(join(folder, file), "utf8")).replaceAll("\r\n", "\n").trim();
  const own = files.find((file) => /^licen[cs]e(\.\w+)?$/i.test(file));
  if (own !== undefined) return read(own);
  const readme = files.find((file) => /^readme(\.\w+)?$/i.test(file));
  const part = readme === undefined ? undefined : /^(?:#+ *)?licen[cs]e\b.*\n(?:[-=]+\n)?([^]*)$/im.exec(await read(readme))?.[1];
  if (part === undefined) throw new Error(`${folder} does not say under which licence it stands, which its users must`);
  return part.trim();
}

/** Licence texts, each once, behind the names of the packages that stand under it. */
async function noticesOf(folders: readonly string[]): Promise<string> {
  const texts = new Map<string, string[]>();
  for (const folder of folders) {
    const { name, version } = JSON.parse(await readFile(join(root, folder, "package.json"), "utf8")) as { name: string; version: string };
    const text = await licenceIn(join(root, folder));
    texts.set(text, [...(texts.get(text) ?? []), `${name} ${version}`]);
  }
  const notices = Array.from(texts, ([text, names]) => `${names.join(", ")}\n\n${text}`);
  return `${notices.join("\n\n----\n\n")}\n`;
}

const inPage = await bundled({
  entryPoints: [live("main.ts")],
  outfile: dist("reports/live/bundle.js"),
  minify: true,
  format: "iife",
  target: "es2022",
  alias: { "d3-format": live("noformats.ts"), "d3-interpolate": live("numbersonly.ts"), "d3-shape": live("straightlines.ts") },
  plugins: [onlyReadingYaml],
});
await writeFile(dist("reports/live/notices.txt"), await noticesOf(inPage));

/** Where a module of the library looks beside itself, as for what its threads load, it looks beside its compiled self. */
const placed: Plugin = {
  name: "placed",
  setup(bundling) {
    bundling.onLoad({ filter: /[\\/]sim[\\/].*\.ts$/ }, async ({ path }) => {
      const compiled = relative(root, path).replaceAll("\\", "/").replace(/ts$/, "js");
      const text = await readFile(path, "utf8");
      return { loader: "ts", contents: text.replaceAll("import.meta.url", `new URL("../${compiled}", import.meta.url).href`) };
    });
  },
};

// the first two files are what an old Node must be able to read, and stay as they are; main.js is loaded by them
await rm(dist("bin"), { recursive: true, force: true });
const inCommand = await bundled({
  entryPoints: ["main", "output/io"].map((name) => join(root, `reports/${name}.ts`)),
  outbase: join(root, "reports"),
  outdir: dist("bin"),
  splitting: true,
  format: "esm",
  platform: "node",
  target: "node20",
  // threads: it looks for files of its own
  external: ["piscina"],
  plugins: [placed],
  banner: { js: 'import { createRequire as requiring } from "node:module";\nconst require = requiring(import.meta.url);' },
});
for (const file of ["cli.js", "begin.js"]) await copyFile(dist(`reports/${file}`), dist(`bin/${file}`));
await writeFile(dist("bin/notices.txt"), await noticesOf(inCommand));
