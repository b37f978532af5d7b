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

// kinds that no display will ever have, so that nobody adds them in earnest
const COUNTER: Edits = {
  "sim/model/scenario.ts": [['  | { readonly kind: "lfsr"', '  | { readonly kind: "trialGray"; readonly bits: number }\n']],
  "sim/scenario/boardschema.ts": [["  lfsr: keyed(", '  trialGray: keyed("a Gray-code counter", { kind: z.literal("trialGray"), bits: whole(1, 16), powerUp }),\n']],
  "sim/counters/sequence.ts": [['    case "lfsr": {', '    case "trialGray":\n      return plain(2 ** counter.bits, counter.bits, (s) => bitsOf(s ^ (s >> 1)));\n']],
  "sim/ratings/drivers.ts": [['    case "table":', '    case "trialGray":\n']],
  "sim/parts/resetinputs.ts": [['    case "table":', '    case "trialGray":\n']],
  "sim/netlist/counters.ts": [
    ['    case "table":\n    case "shuffle":\n      return "a', '    case "trialGray":\n'],
    ['    case "table":\n    case "shuffle":\n      return programmed', '    case "trialGray":\n'],
    ['ring: "ring", johnson: "Johnson"', 'trialGray: "Gray code", '],
    ['  shuffle: terminal("clock"),', '  trialGray: terminal("clock"),\n'],
  ],
  "reports/words.ts": [['    case "lfsr":', '    case "trialGray":\n      return `Gray code, ${counter.bits} bits, ${steps} steps${start}`;\n']],
};

const TIMER: Edits = {
  "sim/model/timer.ts": [
    [" | QuartzTimer | CarryTimer;", " | TrialMainsTimer"],
    ["/** One pulse each time another", 'export interface TrialMainsTimer extends Clocked {\n  readonly kind: "trialMains";\n  readonly waves: number;\n  readonly tolerance: number;\n}\n\n'],
  ],
  "sim/scenario/timerschema.ts": [
    ["  carry: keyed(", '  trialMains: keyed("a mains timer", { kind: z.literal("trialMains"), waves: whole(1, 2 ** 24), tolerance: z._default(quantity(ratio, { least: 0, most: 0.1 }), 0), ...clocked }),\n'],
  ],
  "sim/timers/clockwork.ts": [
    [
      '    case "measured": {',
      `    case "trialMains": {
      const seconds = (timer.waves / 100) * (1 + timer.tolerance * (deviation("quartz") ?? 0));
      return { ...common, period: () => seconds, firstPeriod: () => seconds, most: () => seconds, warmthMatters: false };
    }
`,
    ],
  ],
  "sim/timers/switchoff.ts": [['    case "quartz":', '    case "trialMains":\n']],
  "sim/builds/parts.ts": [['    case "measured":', '    case "trialMains":\n      return name === "quartz" ? even(timer.tolerance) : null;\n']],
  "sim/hunt/brokeninwords.ts": [['    case "quartz":', '    case "trialMains":\n']],
  "sim/netlist/timers.ts": [
    [
      '    case "carry":',
      `    case "trialMains": {
      const device = harness.add({ role: "timer", name: "timer", type: "pulse shaper", pins: ["plus", "minus", "output"].map(terminal), goods: [] });
      harness.feed(device, "plus", "minus");
      return device;
    }
`,
    ],
  ],
  "sim/compare/counts.ts": [['    case "quartz":', '    case "trialMains":\n']],
  "sim/ratings/own.ts": [['    case "quartz":', '    case "trialMains":\n']],
  "reports/words.ts": [['    case "quartz":', '    case "trialMains":\n      return `every ${timer.waves} half waves`;\n']],
  "reports/page/sections/assumed.ts": [['    case "measured":', '    case "trialMains":\n      return [`every ${timer.waves} half waves ±${ratio.format(timer.tolerance)}`, ...moving];\n']],
};

const FIGURE: Edits = {
  "sim/figures/scenes.ts": [
    ["  readonly shortestSeconds: Seconds;", "  readonly trialSeconds: Seconds;\n"],
    ["    shortestSeconds:", "    trialSeconds: trialSpell(sums),\n"],
    ["/** Length of the shortest spell", "export function trialSpell({ open, spells }: Totals): Seconds {\n  return toSeconds(open / spells.length);\n}\n\n"],
  ],
  "sim/figures/measures.ts": [
    ["  private once<T>", '  get trialSpell(): number {\n    return this.once("mean", () => trialSpell(this.totals));\n  }\n\n'],
    ['import { spellRange', 'import { trialSpell } from "./scenes.js";\n'],
  ],
  "reports/json/run.ts": [["    shortestSeconds:", '    trialSeconds: seconds("mean spell"),\n']],
  "sim/figures/headlines.ts": [
    ['    { key: "scenes.medianSeconds"', '    { key: "scenes.trialSeconds", unit: "s", words: "mean spell", better: null, of: ({ trialSpell }) => trialSpell },\n'],
  ],
};

const PROMISE: Edits = {
  "sim/model/scenario.ts": [['  | { readonly kind: "ratings" };', '  | { readonly kind: "trialLit"; readonly atLeast: number }\n']],
  "sim/scenario/promises.ts": [["  ratings: z.pipe(", '  trialLit: keyed("a limit", { atLeast: count }),\n']],
  "sim/promises/kinds/triallit.ts": [
    [
      "",
      `import type { PromiseKind } from "./kind.js";
import { atLeast } from "./limits.js";

export const trialLit: PromiseKind<"trialLit"> = {
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
    ["  ratings,\n", "  trialLit,\n"],
    ['import { ratings } from', 'import { trialLit } from "./triallit.js";\n'],
  ],
  "sim/arrange/promised.ts": [['    case "ratings":', '    case "trialLit":\n']],
};

const ADDITIONS: Readonly<Record<string, Edits>> = { "a counter": COUNTER, "a timer": TIMER, "a figure": FIGURE, "a promise": PROMISE };

/** The code files, and rooms, that the developers' list names for adding something. */
function named(what: string): string[] {
  const text = readFileSync(join(project, "DEVELOPERS.md"), "utf8");
  const entry = new RegExp(`^- \\*\\*${what}\\*\\*: ([^]*?)(?=\\n- \\*\\*|\\n\\n)`, "m").exec(text)![1]!;
  return [...entry.matchAll(/`((?:sim|reports)\/[^`]+)`/g)].map((match) => match[1]!);
}

/** Where what is computed is held against the schemas of what is printed. */
const SHAPES = "reports/json/shapes.ts";

const home = await scratch();
let copies = 0;

/** The files of the program that do not compile, in a copy with these edits, each with what the compiler says of it. */
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
  const compilerOptions = { rootDir: ".", noEmit: true, declaration: false, incremental: false, tsBuildInfoFile: null };
  const include = ["sim", "reports"];
  await writeFile(join(copy, "tsconfig.json"), JSON.stringify({ extends: join(project, "tsconfig.json"), compilerOptions, include }));
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
const BEGINNINGS = ["sim/model/scenario.ts", "sim/model/timer.ts", "sim/figures/scenes.ts"];
/** A new file is missed by the one that gathers its like. */
const GATHERED: Readonly<Record<string, string>> = { "sim/promises/kinds/triallit.ts": "sim/promises/kinds/index.ts" };
const HEADLINES = "sim/figures/headlines.ts";
/** What nothing asks for yet may be there or not: a figure that no headline tells. */
const ASKED = (path: string): boolean => path !== HEADLINES;
/** Where else than in itself it shows that a file was forgotten. */
const NOTICED: Readonly<Record<string, string>> = { "sim/figures/measures.ts": HEADLINES, "reports/json/run.ts": SHAPES };

describe("adding by the list in DEVELOPERS.md", () => {
  test("all together compile, in the whole program", async () => {
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
    expect(faulty.get(HEADLINES)).toMatch(/'trialSpell' does not exist/);
    expect(faulty.get(HEADLINES)).toMatch(/'words' is missing/);
  });

  test.skipIf(!thorough)("nor does anything without the beginnings", async () => {
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
