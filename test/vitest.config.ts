import { availableParallelism } from "node:os";
import { dirname, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { defineConfig, type Plugin } from "vitest/config";

const root = fileURLToPath(new URL("..", import.meta.url));

/**
 * The program under test is the one that was built: what tests import of `sim` and `reports` is read from `dist`, by Node itself.
 * So what runs here is what users run, and loops over many spells take two thirds of the time that they take in modules that
 * the test runner has rewritten.
 */
const built: Plugin = {
  name: "built",
  enforce: "pre",
  resolveId(id, importer) {
    if (importer === undefined || !id.startsWith(".")) return null;
    const path = resolve(dirname(importer), id);
    const within = /^(?:sim|reports)\/.*\.js$/.exec(path.startsWith(root) ? path.slice(root.length) : "")?.[0];
    return within === undefined ? null : { id: `${root}dist/${within}`, external: true };
  },
};

export default defineConfig({
  root,
  plugins: [built],
  test: {
    dir: "test",
    globalSetup: "test/setup.ts",
    server: { deps: { external: [/\/dist\//] } },
    // one worker's modules serve all its files: loading them takes longer than most tests
    isolate: false,
    // the browser tests wait for the browser most of the time
    maxWorkers: availableParallelism() + 1,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // what is waited for comes when the machine has time for it
    expect: { poll: { timeout: 20_000 } },
  },
});
