import { execFile } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { cp, mkdir, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { project } from "../built.js";
import { scratch } from "../endtoend/command.js";
import { thorough } from "../thorough.js";

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
    ['    { key: "scenes.medianSeconds"', '    { key: "scenes.meanSeconds", unit: "s", words: "mean spell", better: null, of: ({ meanSpell }) => meanSpell },\n'],
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

/** Where what is computed is held against the schemas of what is printed. */
const SHAPES = "reports/json/shapes.ts";
/** Every room of the library, and the words and sentences that are made from it. */
const roots = ["sim/index.ts", "sim/netlist/index.ts", "sim/faults/index.ts", "sim/knob/index.ts", "reports/words.ts", "reports/sentences.ts", SHAPES];

const home = await scratch();
let copies = 0;

/** The files of the library that do not compile, in a copy with these edits, each with what the compiler says of it. */
async function faultyFiles(edits: Edits): Promise<Map<string, string>> {
  const copy = join(home, String(++copies));
  await mkdir(copy);
  for (const name of ["sim", "reports"]) await cp(join(project, name), join(copy, name), { recursive: true });
  for (const name of ["node_modules", "package.json"]) await symlink(join(project, name), join(copy, name));
  for (const [file, changes] of Object.entries(edits)) {
    const path = join(copy, file);
    const text = changes.reduce(
      (all, [before, added]) => {
        if (before !== "" && !all.includes(before)) throw new Error(`${file}: nothing reads ${before}`);
        return all.replace(before, () => added + before);
      },
      existsSync(path) ? readFileSync(path, "utf8") : "",
    );
    await writeFile(path, text);
  }
  // nothing here runs in a page, whose types are half of what there is to read
  const compilerOptions = { lib: ["es2023"], rootDir: ".", noEmit: true, declaration: false, incremental: false, tsBuildInfoFile: null };
  await writeFile(join(copy, "tsconfig.json"), JSON.stringify({ extends: join(project, "tsconfig.json"), compilerOptions, files: roots, include: [] }));
  const compiler = join(project, "node_modules/typescript-7/bin/tsc");
  const told = await new Promise<string>((resolve) => {
    // in one thread: of several each would read the types of all libraries by itself
    execFile(process.execPath, [compiler, "-p", copy, "--pretty", "false", "--singleThreaded"], { cwd: copy, maxBuffer: 2 ** 28 }, (_, stdout, stderr) => resolve(stdout + stderr));
  });
  const faulty = new Map<string, string>();
  for (const line of told.split("\n").filter((one) => one !== "" && !one.startsWith(" "))) {
    const [, file = line, why = ""] = /^([^(]+)\(\d+,\d+\): error (.*)/.exec(line) ?? [];
    faulty.set(file, `${faulty.get(file) ?? ""}${why}\n`);
  }
  return faulty;
}

/** All edits together, but those of some files. */
function together(without: readonly string[] = []): Edits {
  const all: Record<string, Edit[]> = {};
  for (const [path, edits] of Object.values(ADDITIONS).flatMap((addition) => Object.entries(addition))) if (!without.includes(path)) (all[path] ??= []).push(...edits);
  return all;
}

/** Where a type begins, on which all the rest of an addition hangs. */
const BEGINNINGS = ["sim/model/scenario.ts", "sim/figures/scenes.ts"];
/** A new file is missed by the one that gathers its like. */
const GATHERED: Readonly<Record<string, string>> = { "sim/promises/kinds/meanlit.ts": "sim/promises/kinds/index.ts" };
const HEADLINES = "sim/figures/headlines.ts";
/** What nothing asks for yet may be there or not: a figure that no headline tells. */
const ASKED = (path: string): boolean => path !== HEADLINES;
/** Where else than in itself it shows that a file was forgotten. */
const NOTICED: Readonly<Record<string, string>> = { "sim/figures/measures.ts": HEADLINES, "reports/json/run.ts": SHAPES };

describe("adding by the list in DEVELOPERS.md", () => {
  test("all three together compile, in the whole library", async () => {
    expect([...(await faultyFiles(together()))]).toEqual([]);
  });

  test.each(Object.entries(ADDITIONS))("%s touches the files that are named and no other", (what, edits) => {
    const rooms = named(what);
    for (const path of Object.keys(edits)) expect(rooms.some((room) => path === room || path.startsWith(`${room}/`)), path).toBe(true);
    for (const room of rooms) expect(Object.keys(edits).some((path) => path === room || path.startsWith(`${room}/`)), room).toBe(true);
  });

  const files = [...new Set(Object.values(ADDITIONS).flatMap((edits) => Object.keys(edits)))].filter(ASKED);
  const forgotten = files.filter((path) => !BEGINNINGS.includes(path) && GATHERED[path] === undefined);

  // each at its own place, so that one program shows all of them; a headline that lacks its words, too
  test("whatever follows from a new type does not compile where it is forgotten", async () => {
    const wordless = FIGURE[HEADLINES]!.map(([before, text]): Edit => [before, text.replace('words: "mean spell", ', "")]);
    const faulty = await faultyFiles({ ...together(forgotten), [HEADLINES]: wordless });
    for (const path of forgotten) expect([...faulty.keys()], path).toContain(NOTICED[path] ?? path);
    expect(faulty.get(HEADLINES)).toMatch(/'meanSpell' does not exist/);
    expect(faulty.get(HEADLINES)).toMatch(/'words' is missing/);
  });

  test("nor does anything without the beginnings", async () => {
    const faulty = [...(await faultyFiles(together([...BEGINNINGS, ...Object.keys(GATHERED)]))).keys()];
    for (const [what, edits] of Object.entries(ADDITIONS)) expect(Object.keys(edits).some((path) => faulty.includes(path)), what).toBe(true);
    for (const gathering of Object.values(GATHERED)) expect(faulty).toContain(gathering);
  });

  const single = Object.entries(ADDITIONS).flatMap(([what, edits]) => Object.keys(edits).filter(ASKED).map((path) => [what, path] as const));
  // each by itself, where there is time
  test.each(thorough ? single : [])("%s without its part in %s does not compile", async (what, left) => {
    const edits = ADDITIONS[what]!;
    const faulty = await faultyFiles(Object.fromEntries(Object.entries(edits).filter(([path]) => path !== left)));
    expect([...faulty.keys()].filter((path) => path in edits || path === SHAPES)).not.toEqual([]);
  });
});
