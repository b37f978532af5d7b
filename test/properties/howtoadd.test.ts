import { readFileSync } from "node:fs";
import { join, relative } from "node:path";
import ts from "typescript";
import { describe, expect, test } from "vitest";

const project = new URL("../..", import.meta.url).pathname;

/** Text put in before a place in a file; for a file that is not there, all its text. */
type Edit = readonly [before: string, text: string];
type Edits = Readonly<Record<string, readonly Edit[]>>;

const COUNTER: Edits = {
  "sim/model/scenario.ts": [['  | { readonly kind: "lfsr"', '  | { readonly kind: "gray"; readonly bits: number }\n']],
  "sim/scenario/boardschema.ts": [["  lfsr: keyed(", '  gray: keyed("a Gray-code counter", { kind: z.literal("gray"), bits: whole(1, 16), powerUp }),\n']],
  "sim/counters/sequence.ts": [['    case "lfsr": {', '    case "gray":\n      return plain(2 ** counter.bits, counter.bits, (s) => bitsOf(s ^ (s >> 1)));\n']],
  "sim/ratings/drivers.ts": [['    case "table":', '    case "gray":\n']],
  "sim/parts/resetinputs.ts": [['    case "table":', '    case "gray":\n']],
  "sim/netlist/counters.ts": [
    ['    case "table":\n    case "shuffle":\n      return "a', '    case "gray":\n'],
    ['    case "table":\n    case "shuffle":\n      return programmed', '    case "gray":\n'],
    ['ring: "ring", johnson: "Johnson"', 'gray: "Gray code", '],
  ],
  "reports/words.ts": [['    case "lfsr":', '    case "gray":\n      return `Gray code, ${counter.bits} bits, ${steps} steps${start}`;\n']],
};

const FIGURE: Edits = {
  "sim/figures/scenes.ts": [
    ["  readonly shortestSeconds: Seconds;", "  readonly meanSeconds: Seconds;\n"],
    ["    shortestSeconds:", "    meanSeconds: meanSpell(sums),\n"],
    ["/** Length of the shortest spell", "export function meanSpell({ open, spells }: Totals): Seconds {\n  return toSeconds(open / spells.length);\n}\n\n"],
  ],
  "sim/figures/measures.ts": [
    ["  private once<T>", '  get meanSpell(): number {\n    return this.once("mean", () => meanSpell(this.totals));\n  }\n\n'],
    ['import { spellRange', 'import { meanSpell } from "./scenes.js";\n'],
  ],
  "reports/json/run.ts": [["    shortestSeconds:", '    meanSeconds: seconds("mean spell"),\n']],
  "sim/figures/headlines.ts": [
    ['    { key: "scenes.medianSeconds"', '    { key: "scenes.meanSeconds", unit: "s", words: "mean spell", of: ({ meanSpell }) => meanSpell },\n'],
  ],
};

const PROMISE: Edits = {
  "sim/model/scenario.ts": [['  | { readonly kind: "ratings" };', '  | { readonly kind: "meanLit"; readonly atLeast: number }\n']],
  "sim/scenario/promises.ts": [["  ratings: z.pipe(", '  meanLit: keyed("a limit", { atLeast: count }),\n']],
  "sim/promises/kinds/meanlit.ts": [
    [
      "",
      `import type { PromiseKind } from "./kind.js";
import { atLeast } from "./limits.js";

export const meanLit: PromiseKind<"meanLit"> = {
  unit: "houses",
  needs: "record",
  text: (promised) => \`at least \${promised.atLeast} houses are lit on average\`,
  limit: (promised) => promised.atLeast,
  judge: (promised, { measures }) => atLeast(promised.atLeast, measures.meanLit),
  firstBreak: () => null,
};
`,
    ],
  ],
  "sim/promises/kinds/index.ts": [
    ["  ratings,\n", "  meanLit,\n"],
    ['import { ratings } from', 'import { meanLit } from "./meanlit.js";\n'],
  ],
};

const ADDITIONS: Readonly<Record<string, Edits>> = { "a counter": COUNTER, "a figure": FIGURE, "a promise": PROMISE };

/** The code files, and rooms, that the developers' list names for adding something. */
function named(what: string): string[] {
  const text = readFileSync(join(project, "DEVELOPERS.md"), "utf8");
  const entry = new RegExp(`^- \\*\\*${what}\\*\\*: ([^]*?)(?=\\n- \\*\\*|\\n\\n)`, "m").exec(text)![1]!;
  return [...entry.matchAll(/`((?:sim|reports)\/[^`]+)`/g)].map((match) => match[1]!);
}

const { options: settings } = ts.parseJsonConfigFileContent(ts.readConfigFile(join(project, "tsconfig.json"), (file) => ts.sys.readFile(file)).config, ts.sys, project);
// nothing here runs in a page, whose types are half of what there is to read
const options: ts.CompilerOptions = { ...settings, lib: ["lib.es2023.d.ts"], noEmit: true, incremental: false };
/** Where what is computed is held against the schemas of what is printed. */
const SHAPES = "reports/json/shapes.ts";
/** Every room of the library, and the words and sentences that are made from it. */
const roots = ["sim/index.ts", "sim/netlist/index.ts", "sim/faults/index.ts", "sim/knob/index.ts", "reports/words.ts", "reports/sentences.ts", SHAPES];
/** What does not change from one program to the next is read once. */
let latest: ts.Program | undefined;
const parsed = new Map<string, ts.SourceFile | undefined>();

/** A compiler's view of the project with some files edited; nothing is written. */
function compiled(edits: Edits): ts.Program {
  const host = ts.createCompilerHost(options);
  const edited = new Map(Object.entries(edits).map(([path, changes]) => [join(project, path), changes]));
  const textOf = (file: string): string | undefined => {
    const changes = edited.get(file);
    if (changes === undefined) return ts.sys.readFile(file);
    return changes.reduce((text, [before, added]) => {
      if (before !== "" && !text.includes(before)) throw new Error(`${file}: nothing reads ${before}`);
      return text.replace(before, () => added + before);
    }, ts.sys.readFile(file) ?? "");
  };
  const exists = host.fileExists.bind(host);
  host.fileExists = (file) => edited.has(file) || exists(file);
  host.readFile = textOf;
  host.getSourceFile = (file, language) => {
    const make = (): ts.SourceFile | undefined => {
      const text = textOf(file);
      return text === undefined ? undefined : ts.createSourceFile(file, text, language);
    };
    if (edited.has(file)) return make();
    if (!parsed.has(file)) parsed.set(file, make());
    return parsed.get(file);
  };
  latest = ts.createProgram(roots.map((file) => join(project, file)), options, host, latest);
  return latest;
}

/** The project's files that do not compile, of all or of these. */
function faultyFiles(program: ts.Program, among?: readonly string[]): string[] {
  return program
    .getSourceFiles()
    .map((source) => ({ source, path: relative(project, source.fileName) }))
    .filter(({ path }) => (among === undefined ? !path.startsWith("..") && !path.includes("node_modules") : among.includes(path)))
    .filter(({ source }) => program.getSemanticDiagnostics(source).length > 0 || program.getSyntacticDiagnostics(source).length > 0)
    .map(({ path }) => path)
    .sort();
}

describe("adding by the list in DEVELOPERS.md", () => {
  test("all three together compile, in the whole library", { timeout: 120_000 }, () => {
    const all: Record<string, Edit[]> = {};
    for (const [path, edits] of Object.values(ADDITIONS).flatMap((edits) => Object.entries(edits))) (all[path] ??= []).push(...edits);
    expect(faultyFiles(compiled(all))).toEqual([]);
  });

  test.each(Object.entries(ADDITIONS))("%s touches the files that are named and no other", (what, edits) => {
    const rooms = named(what);
    for (const path of Object.keys(edits)) expect(rooms.some((room) => path === room || path.startsWith(`${room}/`)), path).toBe(true);
    for (const room of rooms) expect(Object.keys(edits).some((path) => path === room || path.startsWith(`${room}/`)), room).toBe(true);
  });

  const forgotten = Object.entries(ADDITIONS).flatMap(([what, edits]) => Object.keys(edits).map((path) => [what, path] as const));
  // what nothing asks for yet may be there or not: a figure that no headline tells
  const asked = forgotten.filter(([, path]) => path !== "sim/figures/headlines.ts");

  test.each(asked)("%s without its part in %s does not compile", { timeout: 120_000 }, (what, left) => {
    const edits = ADDITIONS[what]!;
    const rest = Object.fromEntries(Object.entries(edits).filter(([path]) => path !== left));
    expect(faultyFiles(compiled(rest), [...Object.keys(edits), ...(left.startsWith("reports/json/") ? [SHAPES] : [])])).not.toEqual([]);
  });

  test("a headline figure without words does not compile", { timeout: 120_000 }, () => {
    const wordless = FIGURE["sim/figures/headlines.ts"]!.map(([before, text]): Edit => [before, text.replace('words: "mean spell", ', "")]);
    expect(faultyFiles(compiled({ ...FIGURE, "sim/figures/headlines.ts": wordless }), ["sim/figures/headlines.ts"])).toEqual(["sim/figures/headlines.ts"]);
  });
});
