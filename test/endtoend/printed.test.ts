import { Ajv2020 } from "ajv/dist/2020.js";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { LISTED } from "../../reports/commands/listed.js";
import { schemaTexts } from "../../reports/schema.js";
import { readScenario } from "../../sim/scenario/file.js";
import { demos, inTwoHours, project, scratch } from "./command.js";
import { lampdrift } from "./inprocess.js";
import { thorough } from "../thorough.js";

/* Everything that commands print for programs, held against its published JSON Schema by a general validator. */
const root = await scratch();

const ajv = new Ajv2020({ allErrors: true, strict: true });

const published = new Map(
  await Promise.all([...schemaTexts().keys()].map(async (file) => [file, await readFile(join(project, "scenarios", file), "utf8")] as const)),
);

/** What is wrong with a value by the published schema of a command. */
function schemaOf(command: string): (value: unknown) => string[] {
  const validate = ajv.compile(JSON.parse(published.get(`${command}.schema.json`)!) as object);
  return (value) => {
    validate(value);
    return (validate.errors ?? []).map(({ instancePath, message = "" }) => `${instancePath} ${message}`);
  };
}

/** The demos, and the one with a picture. */
const all = [...demos, "salt-stairs"] as const;
type Demo = (typeof all)[number];
const demo = (name: Demo): string => join(project, "scenarios", `${name}.yaml`);

/** A demo that is open for two hours only, for commands that simulate it many times. */
async function brief(name: Demo): Promise<string> {
  const file = join(root, `${name}.yaml`);
  // without a picture, which lies elsewhere
  await writeFile(file, inTwoHours(await readFile(demo(name), "utf8")).replace(/^picture: .*\n/m, ""));
  return file;
}

/** A stopwatch log of the display's first board, with one change missed. */
async function logOf(name: Demo): Promise<string> {
  const { boards } = await readScenario(demo(name));
  const file = join(root, `${name}.csv`);
  const rows = [0, 1, 2, 3, 4, 6, 7, 8].map((step, i) => `${boards[0]!.id},${(step * 170 + (i % 3) / 5).toFixed(1)}`);
  await writeFile(file, `board,time\n${rows.join("\n")}\n`);
  return file;
}

/** A call of every command that prints JSON; several where what it prints has several forms. */
const CALLS: Readonly<Record<string, readonly ((name: Demo) => Promise<string[]>)[]>> = {
  run: [async (name) => Promise.resolve([demo(name), "--json"])],
  check: [async (name) => Promise.resolve([demo(name), "--json"])],
  spread: [async (name) => [await brief(name), "--json", "--builds", "3", "--workers", "1"]],
  hunt: [async (name) => [await brief(name), "--json", "--tries", "5"]],
  tune: [async (name) => [await brief(name), "--json", "--builds", "1"]],
  parts: [
    async () => Promise.resolve(["--range", "30 s..2 min", "--json"]),
    async () => {
      const stock = join(root, "stock.txt");
      await writeFile(stock, "100k 1 % metal\n47k 5 % carbon\n470 uF ±20 % electrolytic\ntrimmer 500k ±20 %\n");
      // none of these parts do, so that it tells how near they come
      return ["--range", "30 s..1 min", "--stock", stock, "--json"];
    },
  ],
  compare: [async (name) => [await brief(name), await brief("twin-boards"), "--json", "--builds", "2"]],
  fit: [
    async (name) => [await logOf(name), "--json"],
    async (name) => [await logOf(name), "--json", "--precision", "1 s", "--scenario", demo(name)],
  ],
  bill: [async (name) => Promise.resolve([demo(name), "--json", "--spares", "10%"])],
  fault: [
    async (name) => {
      const { houses, boards } = await readScenario(demo(name));
      return [await brief(name), "--json", "--dark", houses[0]!.id, "--frozen", boards[0]!.id];
    },
  ],
  arrange: [
    async (name) => [await brief(name), "--json", "--tries", "20"],
    async () => [await brief("twin-boards"), "--json", "--tries", "5", "--add-board", "ring:3", "--builds", "2"],
  ],
  export: [async (name) => Promise.resolve([demo(name), "--as", "json", "--days", "1..2"])],
};

/** Commands that take no longer than reading their file: tried on every demo. */
const SIMPLE = ["run", "check", "bill", "export", "fit"];

test("every command that prints JSON has its schema", async () => {
  const printing: string[] = [];
  for (const name of Object.keys(LISTED)) {
    const { stdout } = await lampdrift([name, "--help"]);
    if (/--json|--as <FORMAT>/.test(stdout)) printing.push(name);
  }
  expect(Object.keys(CALLS).sort()).toEqual(printing.sort());
  expect([...schemaTexts().keys()].sort()).toEqual([...printing, "scenario"].map((name) => `${name}.schema.json`).sort());
});

test.each([...schemaTexts()])("%s is the one that is published", (file, text) => {
  expect(published.get(file), "write it anew with: npm run schema").toBe(text);
});

/** What these print has parts that hang on the kinds of the boards. */
const SEVERAL = new Set(["compare", "fault"]);

describe.each(Object.keys(CALLS))("what %s prints", (command) => {
  const faultsOf = schemaOf(command);
  const shown = thorough || SIMPLE.includes(command) ? all : all.filter((name) => name === "twin-boards" || (name === "workshop" && SEVERAL.has(command)));
  test.each(shown)("of %s is as its schema has it, to the last key", async (name) => {
    for (const call of CALLS[command]!) {
      const { status, stdout, stderr } = await lampdrift([command, ...(await call(name))]);
      expect(command === "parts" ? [0, 2] : [0, 1], stderr).toContain(status);
      const printed = JSON.parse(stdout) as Record<string, unknown>;
      expect(faultsOf(printed)).toEqual([]);
      expect(printed).toMatchObject({ lampdrift: { version: /^\d+\.\d+\.\d+$/.exec((printed["lampdrift"] as { version: string }).version)![0], format: 1 } });
      expect(Object.keys(printed)[0]).toBe("lampdrift");
      // one display is enough to try the schema itself
      if (name === "twin-boards") expect(notRefused(shortened(printed), faultsOf)).toEqual([]);
    }
  });
});

/** Keys that are names of the display, so that one more or less is no fault; and one that is there on request. */
const NAMED = /\.(figures|build|boards|references|outputs|outputs\.\w+)$/;
const OPTIONAL = /^\$\.boards\[0\]\.scenario$/;

/** The same with one of each list, so that a thousand alike are not looked at again and again. */
function shortened<T>(value: T): T {
  if (typeof value !== "object" || value === null) return value;
  if (Array.isArray(value)) return value.slice(0, 1).map(shortened) as T;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, shortened(inner)])) as T;
}

/** Places at which a key too many or too few goes unnoticed. */
function notRefused(printed: Record<string, unknown>, faultsOf: (value: unknown) => string[]): string[] {
  const missed: string[] = [];
  const visit = (value: unknown, path: string): void => {
    if (typeof value !== "object" || value === null) return;
    if (Array.isArray(value)) { visit(value[0], `${path}[0]`); return; }
    const held = value as Record<string, unknown>;
    for (const [key, inner] of Object.entries(held)) {
      visit(inner, `${path}.${key}`);
      if (NAMED.test(path) || OPTIONAL.test(`${path}.${key}`)) continue;
      Reflect.deleteProperty(held, key);
      if (faultsOf(printed).length === 0) missed.push(`${path}.${key} taken away`);
      held[key] = inner;
      held[key] = inner === null ? [[]] : Array.isArray(inner) ? {} : typeof inner === "object" ? [] : { odd: true };
      if (faultsOf(printed).length === 0) missed.push(`${path}.${key} of another kind`);
      held[key] = inner;
    }
    if (NAMED.test(path)) return;
    held["surplus"] = null;
    if (faultsOf(printed).length === 0) missed.push(`${path}.surplus added`);
    delete held["surplus"];
  };
  visit(printed, "$");
  return missed;
}
