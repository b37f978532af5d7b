import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { runInNewContext } from "node:vm";
import { gzipSync } from "node:zlib";
import { build, type BuildOptions } from "esbuild";
import { describe, expect, test } from "vitest";
import { figures, readScenario, simulate } from "../../sim/index.js";
import { demo, demos, project } from "./command.js";

/** A bundle as a browser gets it: anything of Node on the way is an error. */
async function bundled(options: BuildOptions): Promise<string> {
  const { outputFiles } = await build({ bundle: true, write: false, format: "iife", platform: "browser", logLevel: "silent", absWorkingDir: project, ...options });
  return outputFiles![0]!.text;
}

describe("the script of the page", () => {
  test("is small, however it travels", async () => {
    const script = await readFile(join(project, "dist/reports/live/bundle.js"));
    expect(script.length).toBeLessThan(450_000);
    expect(gzipSync(script, { level: 9 }).length).toBeLessThan(150_000);
  });

  test("goes with the licence of every package that is in it", async () => {
    const notices = await readFile(join(project, "dist/reports/live/notices.txt"), "utf8");
    const { metafile } = await build({ entryPoints: ["reports/live/main.ts"], bundle: true, write: false, metafile: true, logLevel: "silent", absWorkingDir: project });
    const packages = [...new Set(Object.keys(metafile.inputs).flatMap((file) => /^node_modules\/([^/]+)/.exec(file)?.[1] ?? []))];
    expect(packages.length).toBeGreaterThan(8);
    // these are left out of what the page gets
    for (const name of packages.filter((one) => !["d3-color", "d3-format", "d3-interpolate", "d3-path", "d3-shape", "d3-time", "d3-time-format", "internmap", "ml-matrix"].includes(one))) expect(notices).toContain(`${name} `);
    const copyrights = await Promise.all(["yaml", "zod", "image-size", "d3-scale"].map(async (name) => /Copyright [^<]*[^<\n]/.exec(await readFile(join(project, "node_modules", name, "LICENSE"), "utf8"))![0]));
    for (const line of copyrights) expect(notices).toContain(line);
    expect((await readFile(join(project, "dist/lampdrift.html"), "utf8")).includes(copyrights[0]!)).toBe(true);
  });

  test("needs nothing of Node", async () => {
    const script = await bundled({ entryPoints: ["reports/live/main.ts"] });
    expect(script).not.toMatch(/\brequire\(["']|"node:|\bprocess\.(env|versions|stdout)|\bsetImmediate\b/);
  });
});

test("the library in a browser computes the demos as Node does, with nothing but the language", async () => {
  const contents = `import { figures, parseScenario, simulate } from "lampdrift";\nshown = texts.map((text) => JSON.stringify(figures(simulate(parseScenario(text, "a file")))));`;
  const script = await bundled({ stdin: { contents, resolveDir: project } });
  const texts = await Promise.all(demos.map((name) => readFile(demo(name), "utf8")));
  // a context of its own has neither process nor Buffer, files nor timers
  const context = { texts, shown: [""] };
  runInNewContext(script, context);
  for (const [i, name] of demos.entries()) expect(context.shown[i], name).toBe(JSON.stringify(figures(simulate(await readScenario(demo(name))))));
});
