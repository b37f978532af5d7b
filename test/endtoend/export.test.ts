import { Ajv2020 } from "ajv/dist/2020.js";
import { parse } from "csv-parse/sync";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { schemaTexts } from "../../reports/schema.js";
import { eachSpell, type SceneRecord } from "../../sim/engine/record.js";
import { simulate } from "../../sim/engine/simulate.js";
import { readScenario } from "../../sim/scenario/file.js";
import { readVcd } from "../oracle/vcd.js";
import { briefly, cli, demo, demos, listing, program, project, scratch } from "./command.js";
import { thorough } from "../thorough.js";
import { lampdrift } from "./inprocess.js";
import { chaser } from "../chaser.js";

const root = await scratch();

/** Rows of comma-separated values by RFC 4180, as a general library reads them. */
const rowsOf = (text: string): string[][] => parse(text, { relax_column_count: false });

const MICRO = 1e6;

interface Spell {
  readonly opening: number;
  readonly scene: number;
  readonly start: number;
  readonly end: number;
  readonly lit: readonly number[];
}

function spellsOf(record: SceneRecord): Spell[] {
  const spells: Spell[] = [];
  eachSpell(record, (scene, start, end, opening) =>
    spells.push({ opening: opening + 1, scene: scene + 1, start: start / MICRO, end: end / MICRO, lit: record.scenes.lit(scene) }),
  );
  return spells;
}

/** Two days of a demo: what is written of a day does not hang on how many there are. */
async function twoDaysOf(name: (typeof demos)[number]): Promise<{ file: string; record: SceneRecord }> {
  const file = join(root, `${name}.yaml`);
  await writeFile(file, briefly(await readFile(demo(name), "utf8")));
  return { file, record: simulate(await readScenario(file)) };
}

describe.each(demos)("%s exported", (name) => {
  const made = twoDaysOf(name);

  test("as a row a spell is the record", async () => {
    const { file, record } = await made;
    const { status, stdout } = await lampdrift(["export", file, "--as", "csv"]);
    expect(status).toBe(0);
    const [head, ...rows] = rowsOf(stdout);
    expect(head).toEqual(["opening", "startSeconds", "endSeconds", "scene", "lit", "houses"]);
    expect(rows).toEqual(
      spellsOf(record).map(({ opening, start, end, scene, lit }) =>
        [opening, start, end, scene, lit.length, lit.map((house) => record.scenario.houses[house]!.id).join(" ")].map(String),
      ),
    );
  });

  test("as a row a house and stretch adds up to the record", async () => {
    const { file, record } = await made;
    const { stdout } = await lampdrift(["export", file, "--as", "csv", "--houses"]);
    const [head, ...rows] = rowsOf(stdout);
    expect(head).toEqual(["opening", "house", "name", "state", "startSeconds", "endSeconds"]);
    const litFor = new Map(record.scenario.houses.map(({ id }) => [id, 0]));
    for (const { start, end, lit } of spellsOf(record)) {
      for (const house of lit) litFor.set(record.scenario.houses[house]!.id, litFor.get(record.scenario.houses[house]!.id)! + end - start);
    }
    for (const { id } of record.scenario.houses) {
      const own = rows.filter((row) => row[1] === id);
      const lit = own.filter((row) => row[3] === "lit").reduce((sum, row) => sum + Number(row[5]) - Number(row[4]), 0);
      expect(lit, id).toBeCloseTo(litFor.get(id)!, 3);
      record.openings.forEach(({ from, until }, opening) => {
        // from opening to closing without a gap, lit and dark by turns
        const stretches = own.filter((row) => row[0] === String(opening + 1));
        expect(Number(stretches[0]![4]) * MICRO).toBeCloseTo(from, 0);
        expect(Number(stretches.at(-1)![5]) * MICRO).toBeCloseTo(until, 0);
        const joins = stretches.slice(1).map((row, i) => row[4] === stretches[i]![5] && row[3] !== stretches[i]![3]);
        expect(joins.every(Boolean), `${id} on opening ${opening + 1}`).toBe(true);
      });
    }
  });

  test("as JSON is the record, as the schema has it", async () => {
    const { file, record } = await made;
    const { stdout } = await lampdrift(["export", file, "--as", "json"]);
    const exported = JSON.parse(stdout) as Exported;
    expect(faultsOf(exported)).toEqual([]);
    const litIn = new Map(exported.scenes.map(({ scene, houses }) => [scene, houses]));
    const told = exported.openings.flatMap(({ opening, untilSeconds, spells }) =>
      spells.map(([start, scene], i) => ({ opening, scene, start, end: spells[i + 1]?.[0] ?? untilSeconds, lit: litIn.get(scene) })),
    );
    expect(told).toEqual(
      spellsOf(record).map((spell) => ({ ...spell, lit: spell.lit.map((house) => record.scenario.houses[house]!.id) })),
    );
  });
});

interface Exported {
  readonly openings: readonly { readonly opening: number; readonly untilSeconds: number; readonly spells: readonly [number, number][] }[];
  readonly scenes: readonly { readonly scene: number; readonly houses: readonly string[] }[];
}

const published = await readFile(join(project, "scenarios/export.schema.json"), "utf8");
const validate = new Ajv2020({ allErrors: true }).compile(JSON.parse(published) as object);

function faultsOf(value: unknown): string[] {
  validate(value);
  return (validate.errors ?? []).map(({ instancePath, message = "" }) => `${instancePath} ${message}`);
}

describe("the schema of the record", () => {
  test("is the one that is published", () => {
    expect(published, "write it anew with: npm run schema").toBe(schemaTexts().get("export.schema.json"));
  });

  test.each<[what: string, spoil: (exported: Record<string, unknown>) => void]>([
    ["another format", (exported) => (exported["lampdrift"] = { version: "1", format: 2 })],
    ["no scenes", (exported) => delete exported["scenes"]],
    ["a spell without its scene", (exported) => ((exported["openings"] as { spells: unknown[] }[])[0]!.spells[0] = [1])],
    ["a scene numbered from 0", (exported) => ((exported["scenes"] as { scene: number }[])[0]!.scene = 0)],
    ["a time in words", (exported) => ((exported["openings"] as { fromSeconds: unknown }[])[0]!.fromSeconds = "10:00")],
  ])("refuses %s", async (_, spoil) => {
    const { stdout } = await lampdrift(["export", demo("workshop"), "--as", "json", "--days", "1"]);
    const exported = JSON.parse(stdout) as Record<string, unknown>;
    expect(faultsOf(exported)).toEqual([]);
    spoil(exported);
    expect(faultsOf(exported)).not.toEqual([]);
  });
});

/** A display of one board that changes its scene every 20 seconds, with these names on its houses. */
async function named(file: string, names: readonly string[]): Promise<string> {
  const path = join(root, file);
  await writeFile(
    path,
    [
      "lampdrift: 1",
      `title: ${JSON.stringify(`Names $end ${names[0]!}`)}`,
      'opening: { from: "10:00", until: "10:10", run: 3 }',
      "houses:",
      ...names.map((name, i) => `  h${i}: { name: ${JSON.stringify(name)} }`),
      `boards: { quay: { timer: { kind: quartz, step: 20 }, counter: { kind: ring, steps: ${names.length} },`,
      `  outputs: { ${names.map((_, i) => `${i}: h${i}`).join(", ")} } } }`,
      "",
    ].join("\n"),
  );
  return path;
}

const HOSTILE = ['a "quoted" inn', "mill, lower", "=1+2", "+cmd", "-cmd", "@SUM(A1)", "＝1+2", "＋cmd", "－cmd", "＠x", "'quote", "$end $upscope", 'x";y', "\\n"];

describe("hostile names", () => {
  test("stand in the table as they are, but none begins as a formula does", async () => {
    const { status, stdout } = await lampdrift(["export", await named("hostile.yaml", HOSTILE), "--as", "csv", "--houses"]);
    expect(status).toBe(0);
    const found = new Map(rowsOf(stdout).slice(1).map((row) => [row[1]!, row[2]!]));
    expect([...found.values()]).toHaveLength(HOSTILE.length);
    HOSTILE.forEach((name, i) => {
      const cell = found.get(`h${i}`)!;
      expect(cell).not.toMatch(/^[=+\-@＝＋－＠]/);
      expect(cell.replace(/^'(?=[=+\-@＝＋－＠])/, "")).toBe(name);
    });
  });

  test("that turn the direction of writing do not do so in a table or a dump", async () => {
    const turned = await named("turned.yaml", ["gull\u202eexe", "\u2066=1+2\u2069"]);
    for (const [args, name, formula] of [[["csv", "--houses"], "gullexe", "'=1+2"], [["vcd"], "gullexe", "=1+2"]] as const) {
      const { status, stdout } = await lampdrift(["export", turned, "--as", ...args]);
      expect(status).toBe(0);
      expect(stdout).toContain(name);
      expect(stdout).toContain(formula);
      expect(stdout).not.toMatch(/[\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069]/);
    }
  });

  test("that turn the direction of writing stand in JSON as they are, escaped so that the text does not turn", async () => {
    const names = ["gull\u202eexe", "\u2066=1+2\u2069", "\u{e0041}tag \u{1f469}\u200d\u{1f527}"];
    for (const args of [["export", await named("json.yaml", names), "--as", "json"], ["run", await named("json.yaml", names), "--json"]]) {
      const { status, stdout } = await lampdrift(args);
      expect(status).toBe(0);
      expect(stdout).not.toMatch(/[\p{Cf}\u007f-\u009f\u2028\u2029]/u);
      const { scenario, houses } = JSON.parse(stdout) as { scenario: { title: string }; houses: { name?: string }[] };
      expect(scenario.title).toBe(`Names $end ${names[0]!}`);
      if (args[0] === "export") expect(houses.map(({ name }) => name)).toEqual(names);
    }
  });

  test("do not end a comment of the dump early", async () => {
    const { stdout } = await lampdrift(["export", await named("dump.yaml", HOSTILE), "--as", "vcd"]);
    const comments = stdout.split("\n").filter((line) => line.startsWith("$comment"));
    expect(comments).toHaveLength(HOSTILE.length + 1);
    for (const line of comments) expect(line).toMatch(/^\$comment [^$]+ \$end$/);
    const { signals } = readVcd(stdout);
    expect([...signals.keys()].filter((name) => name.startsWith("display.houses."))).toEqual(HOSTILE.map((_, i) => `display.houses.h${i}`));
  });
});

describe("--days", () => {
  const file = demo("twin-boards");
  test.each([["2", ["2"]], ["1..3", ["1", "2", "3"]], ["9 .. 10", ["9", "10"]]])("%s writes those openings, as they are in the whole", async (days, wanted) => {
    const all = rowsOf((await lampdrift(["export", file, "--as", "csv"])).stdout).slice(1);
    const some = rowsOf((await lampdrift(["export", file, "--as", "csv", "--days", days])).stdout).slice(1);
    expect(some).toEqual(all.filter(([opening]) => wanted.includes(opening!)));
    expect(new Set(some.map(([opening]) => opening))).toEqual(new Set(wanted));
  });

  test.each(["0", "11", "3..2", "1..11", "x", "", "1..", "1.5"])("refuses %j, and says what would do", async (days) => {
    const { status, stdout, stderr } = await lampdrift(["export", file, "--as", "csv", "--days", days]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain("from 1 to 10");
  });
});

describe("bad usage", () => {
  test.each<[what: string, args: string[], says: RegExp]>([
    ["no form", [], /--as/],
    ["an unknown form", ["--as", "xml"], /vcd, csv, json/],
    ["houses in a dump", ["--as", "vcd", "--houses"], /--houses goes with --as csv/],
  ])("%s ends with status 2", async (_, args, says) => {
    const { status, stdout, stderr } = await lampdrift(["export", demo("workshop"), ...args]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toMatch(says);
  });

  test("a file that is not there, too", async () => {
    expect(await lampdrift(["export", "missing.yaml", "--as", "vcd"])).toMatchObject({ status: 2, stdout: "" });
  });
});

describe("-o", () => {
  test.each(["vcd", "csv", "json"])("writes %s as it goes to standard output, over an older file, and nothing beside it", async (as) => {
    const cwd = join(root, `out-${as}`);
    await program("mkdir", [cwd]);
    await writeFile(join(cwd, "record"), "older");
    const { status, stdout, stderr } = await lampdrift(["export", demo("workshop"), "--as", as, "-o", "record"], { cwd });
    expect({ status, stdout, stderr }).toEqual({ status: 0, stdout: "", stderr: "wrote record\n" });
    expect(await readFile(join(cwd, "record"), "utf8")).toBe((await lampdrift(["export", demo("workshop"), "--as", as])).stdout);
    expect(await listing(cwd)).toEqual(["record"]);
  });

  test("leaves the older file and nothing half-written where there is no room", async () => {
    const cwd = join(root, "full");
    await program("mkdir", [cwd]);
    await writeFile(join(cwd, "record"), "older");
    // a file may not grow beyond 16 blocks
    const line = 'ulimit -f 16; trap "" XFSZ; "$NODE" "$CLI" export "$FILE" --as csv -o record; echo $? >&2';
    const { stderr } = await program("bash", ["-c", line], { cwd, env: { NODE: process.execPath, CLI: cli, FILE: demo("tidewater-lane") } });
    expect(stderr).toMatch(/cannot write record: .*\n2\n$/);
    expect(await readFile(join(cwd, "record"), "utf8")).toBe("older");
    expect(await listing(cwd)).toEqual(["record"]);
  });

  test("is told a directory that is not there", async () => {
    const { status, stderr } = await lampdrift(["export", demo("workshop"), "--as", "csv", "-o", join(root, "nowhere", "record.csv")]);
    expect(status).toBe(2);
    expect(stderr).toMatch(/^cannot write .*record\.csv: /);
  });
});

describe("as a process", () => {
  const quick = join(root, "quick.yaml");
  const written = writeFile(quick, chaser("Quick", '{ from: "10:00", until: "11:10", run: 1 }'));

  test.each(["vcd", "csv", "json"])("%s whose reader has seen enough ends it quietly", async (as) => {
    await written;
    const line = `"$NODE" "$CLI" export "$FILE" --as ${as} | head -c 100000 | wc -c; echo "\${PIPESTATUS[0]}" >&2`;
    const outcome = await program("bash", ["-c", line], { env: { NODE: process.execPath, CLI: cli, FILE: quick } });
    expect({ ...outcome, stdout: outcome.stdout.trim() }).toEqual({ status: 0, stdout: "100000", stderr: "0\n" });
  });

  test.skipIf(!thorough).each(["vcd", "json"])("hundreds of thousands of spells as %s go through a heap far smaller than they are", async (as) => {
    await written;
    const file = join(root, `many.${as}`);
    // without the sentence about the least heap with which commands begin at all
    const run = `import { main } from ${JSON.stringify(join(project, "dist/reports/main.js"))}; import { processIo } from ${JSON.stringify(join(project, "dist/reports/output/io.js"))};
      process.exitCode = await main(process.argv.slice(1), processIo());`;
    const outcome = await program(process.execPath, ["--max-old-space-size=20", "--input-type=module", "-e", run, "export", quick, "--as", as, "-o", file]);
    expect(outcome).toMatchObject({ status: 0, stdout: "" });
    // seventy minutes of a hundred spells a second, each with a time of its own in the file
    const { stdout } = await program("sh", ["-c", `${COUNT[as]!} "$FILE" | wc -l`], { env: { FILE: file } });
    expect(Number(stdout)).toBe(70 * 60 * 100);
  });
});

/** How the spells of the quick display are counted from outside. */
const COUNT: Readonly<Record<string, string>> = {
  // without power, before and after, the step is bx
  vcd: "grep -a '^b[01]* #'",
  json: "grep -ao '\\[[0-9.]*,[1-4]\\]'",
};
