import { readFile } from "node:fs/promises";
import type { Plugin } from "esbuild";

/** A constructor with what its prototype is, as libraries write them that are compiled into one file. */
const CONSTRUCTOR = /^function (\w+)\(([^)]*)\) \{\n((?: .*\n|\n)*)\}\n+\1\.prototype = (\{\n(?: .*\n|\n)*\});/gm;
/** A thing made at once by a function that does nothing else. */
const MADE = /= \(function custom/g;

/**
 * Lets the bundler leave out of d3-shape the curves that no picture draws: it cannot tell that what is written to a
 * prototype, or made by a function, concerns nobody else.
 */
export const withoutUncalled: Plugin = {
  name: "without what nobody calls",
  setup: (build) => {
    build.onLoad({ filter: /[/\\]d3-shape\.mjs$/ }, async ({ path }) => ({
      contents: (await readFile(path, "utf8"))
        .replace(CONSTRUCTOR, (_, name: string, parameters: string, body: string, prototype: string) =>
          `const ${name} = /* @__PURE__ */ (() => { function ${name}(${parameters}) {\n${body}}
${name}.prototype = ${prototype}; return ${name}; })();`)
        .replace(MADE, "= /* @__PURE__ */ (function custom"),
      loader: "js",
    }));
  },
};
