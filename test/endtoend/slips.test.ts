import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { readScenario } from "../../sim/scenario/file.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { ScenarioError } from "../../sim/scenario/problems.js";
import { demo, scratch } from "./command.js";
import { thorough } from "../thorough.js";
import { lampdrift, unwrapped } from "./inprocess.js";

const root = await scratch();

/** A file as people write one, with three boards. */
const TEXT = `lampdrift: 1
title: Three boards
opening:
  days: [tue, wed]
  from: "10:00"
  until: "12:00"
  run: 2
houses:
  inn: { name: Three Gulls Inn, zone: quay }
  bakery: { name: Bakery, zone: quay }
  townhall:
    name: Town hall
    zone: town
  mill: { zone: hill }
boards:
  quay:
    timer:
      kind: measured
      step: 100 s
      reading: 1 s
    counter: { kind: ring, steps: 2 }
    outputs:
      0: inn
      1: [bakery, townhall]
  town:
    timer: { kind: quartz, step: 73 s }
    counter:
      kind: ring
      steps: 3
    outputs: { 0: townhall, 1: bakery, 2: inn }
  hill:
    timer:
      kind: quartz
      step: 55 s
    counter: { kind: ring, steps: 2 }
    outputs:
      0: mill
      1: inn
promises:
  - step: { from: 10 s }
`;
const ROWS = TEXT.trimEnd().split("\n");

/** What is wrong with a text. */
function problemsOf(text: string): ScenarioError["problems"] {
  try {
    parseScenario(text, "t.yaml");
    return [];
  } catch (error) {
    if (error instanceof ScenarioError) return error.problems;
    throw error;
  }
}

/** The text with one line changed. */
function withRow(index: number, row: string): string {
  return `${ROWS.with(index, row).join("\n")}\n`;
}

function indent(row: string): number {
  return row.search(/\S/);
}

/** Runs a command on a text. */
async function said(text: string, command: readonly string[] = ["check"]): Promise<string> {
  await writeFile(join(root, "t.yaml"), text);
  const { stdout, stderr } = await lampdrift([command[0]!, "t.yaml", ...command.slice(1)], { cwd: root });
  return unwrapped(`${stderr}${stdout}`);
}

/** What YAML's parser calls things, which nobody who solders has to know. */
const JARGON = /implicit|mapping items|scalar|token|collection|compact|flow (?:map|seq)|node end|block (?:map|seq)/i;

describe("a line in the wrong column is one problem, told at that line, without its consequences", () => {
  const every = ROWS.flatMap((row, index) => (row.startsWith("  -") ? [] : [[index + 1, row.trim()] as const]));
  const lines = every.filter(([number]) => thorough || number % 3 !== 0);

  test.each(lines)("line %i, %s", (number, rest) => {
    const column = indent(ROWS[number - 1]!);
    for (const by of thorough ? [-2, -1, 1, 2] : number % 2 === 0 ? [-2, 1] : [-1, 2]) {
      if (column + by < 0) continue;
      const problems = problemsOf(withRow(number - 1, " ".repeat(column + by) + rest));
      const told = problems.map(({ line, message }) => `${line}: ${message}`);
      expect(told, `by ${by}`).toHaveLength(1);
      expect(told[0]).not.toMatch(JARGON);
      // of two lines alone under a key, either may be the one that slipped
      const twins = [["name", "zone"], ["kind", "step"], ["kind", "steps"], ["0", "1"]].some((pair) => pair.includes(rest.split(":")[0]!));
      const where = twins && by > 0 ? /begins in column \d+; expected column \d+/ : new RegExp(`^${number}: this line begins in column ${column + by + 1}; expected column ${column + 1}`);
      expect(told[0], `by ${by}`).toMatch(where);
    }
  });

  test.each(lines.filter(([number]) => ROWS[number - 1]!.startsWith(" ")))("a tab before line %i, %s", (number, rest) => {
    const problems = problemsOf(withRow(number - 1, `\t${rest}`));
    expect(problems.map(({ line, message }) => `${line}: ${message}`)).toEqual([
      `${number}: a tab stands at the beginning of this line; indent with spaces`,
    ]);
  });

  test("a file indented with tabs throughout is told so once, and what else is wrong with it", async () => {
    const tabbed = TEXT.replace("steps: 3", "stepz: 3").replace(/^ +/gm, (white) => "\t".repeat(white.length / 2));
    const told = await said(tabbed);
    expect(told).toMatch(/t\.yaml:4:1: a tab stands at the beginning of this line, and of \d+ more \(5, 6, 7, 9, 10, …\); indent with spaces/);
    expect(told).toContain('stepz: unknown key; did you mean "steps"?');
    expect(told).toContain("2 problems in t.yaml");
  });

  test("the same slip on three boards is three problems, beside whatever else is wrong", async () => {
    const told = await said(TEXT.replaceAll("    counter:", "     counter:").replace("zone: hill", "zon: hill"));
    for (const line of [21, 27, 35]) expect(told).toContain(`t.yaml:${line}:6: this line begins in column 6; expected column 5, as a part of`);
    expect(told).toContain('houses.mill.zon: unknown key; did you mean "zone"?');
    expect(told).toContain("4 problems in t.yaml");
  });

  test("a key that stands twice hides none of what else is wrong, a line in the wrong column least of all", async () => {
    const told = await said(TEXT.replace("  mill: {", "  inn: {").replace("    counter: { kind: ring, steps: 2 }\n    outputs:\n      0: inn", "     counter: { kind: ring, steps: 2 }\n    outputs:\n      0: inn"));
    expect(told).toContain("t.yaml:14:3: houses.inn: this key stands twice in one mapping, first in line 9; keep one of them");
    expect(told).toContain("t.yaml:21:6: this line begins in column 6; expected column 5");
    expect(told).toContain('no house is called "mill"');
    expect(told).toContain("3 problems in t.yaml");
  });

  test("says of which key the line is a part", async () => {
    expect(await said(withRow(19, "    reading: 1 s"))).toContain('t.yaml:20:5: this line begins in column 5; expected column 7, as a part of "timer" in line 17');
    expect(await said(withRow(2, " opening:"))).toContain("t.yaml:3:2: this line begins in column 2; expected column 1, where the keys of the file begin");
  });

  test("a variant's slips stand in its own file, and those of its base in the base", async () => {
    const cwd = join(root, "variant");
    await mkdir(cwd);
    await writeFile(join(cwd, "base.yaml"), withRow(19, "     reading: 1 s"));
    await writeFile(join(cwd, "v.yaml"), "base: base.yaml\nboards:\n  quay:\n    timer:\n      step: 90 s\n     reading: 2 s\n");
    const { status, stderr } = await lampdrift(["check", "v.yaml"], { cwd });
    expect(status).toBe(2);
    expect(stderr).toMatch(/^v\.yaml:6:6: this line begins in column 6; expected column 7.*\nbase\.yaml:20:6: this line begins in column 6; expected column 7.*\n2 problems/);
  });
});

describe("a misspelt key is one problem, with the key that is meant", () => {
  const keys = ROWS.flatMap((row, index) => [...row.matchAll(/([a-z]{3,}):/gi)].map((found) => [index + 1, found[1]!, found.index] as const));
  const ids = ["inn", "bakery", "townhall", "mill", "quay", "town", "hill"];

  test.each(keys.filter(([, key]) => !ids.includes(key)))("line %i, %s", (number, key, at) => {
    const row = ROWS[number - 1]!;
    const slips = [key.slice(0, 1) + key.slice(2), key + key.at(-1)!, key[1]! + key[0]! + key.slice(2)];
    for (const slip of thorough ? slips : [slips[(number + at) % slips.length]!]) {
      const told = problemsOf(withRow(number - 1, row.slice(0, at) + slip + row.slice(at + key.length)));
      expect(told.map(({ line, column, message }) => `${line}:${column}: ${message.slice(0, message.indexOf("?") + 1)}`), slip).toEqual([
        `${number}:${at + 1}: unknown key; did you mean "${key}"?`,
      ]);
    }
  });

  test("and what else is wrong behind it is told beside it", async () => {
    const told = await said(TEXT.replace("step: 100 s", "stp: 100 x"));
    expect(told).toMatch(/stp: unknown key; did you mean "step"\?.*step: found "100 x"; expected a duration/);
    expect(told).toContain("2 problems in t.yaml");
  });

  test("in a variant, or in its base", async () => {
    const cwd = join(root, "misspelt");
    await mkdir(cwd);
    await writeFile(join(cwd, "base.yaml"), TEXT.replace("step: 73 s", "stp: 73 s"));
    await writeFile(join(cwd, "v.yaml"), "base: base.yaml\nboards:\n  quay:\n    countr: { steps: 3 }\n");
    const { stderr } = await lampdrift(["check", "v.yaml"], { cwd });
    expect(unwrapped(stderr)).toMatch(/^v\.yaml:4:5: boards\.quay\.countr: unknown key; did you mean "counter"\?.* base\.yaml:26:28: boards\.town\.timer\.stp: unknown key; did you mean "step"\?.* 2 problems/);
  });
});

describe("a sign that is missing is named where it is missing", () => {
  test.each([
    ["title: Three", "title Three", "2:1", 'there is no colon in this line; expected a key, a colon and a space, as in "title: …"'],
    ["title: Three", "title:Three", "2:1", "a space is missing behind the colon"],
    ["zone: quay }\n", "zone: quay\n", "9:3", "has no end; expected } behind it"],
    ["townhall]", "townhall", "24:7", "has no end; expected ] behind it"],
    ['"10:00"', '"10:00', "5:3", 'has no end; expected " behind it'],
    ["    counter:\n", "    counter\n", "27:5", "there is no colon in this line"],
    ["counter: { kind: ring, steps: 2 }\n    outputs:\n      0: inn", "counter { kind: ring, steps: 2 }\n    outputs:\n      0: inn", "21:5", "no colon"],
    ["kind: ring, steps: 2", "kind: ring steps: 2", "21:22", "a comma is missing here"],
    ["Three boards", "@three", "2:8", "put the text in quotes"],
    ["Three boards", '"a \\q b"', "2:11", "behind \\ stands a letter that means nothing"],
    ["steps: 2 }\n", "steps: 2 }}\n", "21:38", "brackets do not fit here"],
    ["lampdrift: 1", "%YAML 1.1\n---\nlampdrift: 1", "1:1", "take its line %YAML out"],
  ])("%j become %j", (was, now, place, says) => {
    expect(TEXT).toContain(was);
    const problems = problemsOf(TEXT.replace(was, now));
    expect(problems.map(({ line, column }) => `${line}:${column}`)).toEqual([place]);
    expect(problems[0]!.message).toContain(says);
    expect(problems[0]!.message).not.toMatch(JARGON);
  });
});

describe("names, days and times as people write them", () => {
  test("a name in place of an id, and a percentage without its sign, are told what would do", async () => {
    expect(await said(TEXT.replace("  mill: {", "  Old mill: {").replace("0: mill", "0: inn"))).toContain("; such as old-mill, with what people call it as its name");
    expect(await said(`${TEXT}  - repeatOnReturn: { after: 10 min, atMost: 20 }\n`)).toContain('repeatOnReturn.atMost: found 20; expected a share');
    expect(await said(`${TEXT}  - repeatOnReturn: { after: 10 min, atMost: 20 }\n`)).toContain('did you mean "20 %"?');
  });

  test.each([
    ["0: townhall, 1: bakery", "0: Town hall, 1: bakery", "boards.town.outputs.0", 'found "Town hall"', 'did you mean "townhall"?'],
    ["[bakery, townhall]", "[bakery, Town hall]", "boards.quay.outputs.1[1]", 'found "Town hall"', 'did you mean "townhall"?'],
    ["[bakery, townhall]", "[bakery townhall]", "boards.quay.outputs.1[0]", 'found "bakery townhall"', "did you mean [bakery, townhall]?"],
    ["0: inn\n", "0: Three Gulls Inn\n", "boards.quay.outputs.0", 'found "Three Gulls Inn"', 'did you mean "inn"?'],
    ["0: mill\n", "0: Mill\n", "boards.hill.outputs.0", 'no house is called "Mill"', 'did you mean "mill"?'],
  ])("%j become %j: the id is suggested", async (was, now, path, found, meant) => {
    expect(TEXT).toContain(was);
    const told = await said(TEXT.replace(was, now));
    expect(told).toContain(`${path}: ${found}`);
    expect(told).toContain(meant);
  });

  test.each([
    ["tue-sun", [1, 2, 3, 4, 5, 6]],
    ["Tue", [1]],
    ["Tuesday", [1]],
    ["sat to mon", [0, 5, 6]],
    ["Mon, Wed and fri", [0, 2, 4]],
    ["[tue-thu, Sunday]", [1, 2, 3, 6]],
    ["[sun, sun, Mon.]", [0, 6]],
    ["Thursdays", [3]],
  ])("days: %s", (written, days) => {
    expect(parseScenario(TEXT.replace("[tue, wed]", written), "t.yaml").opening.days).toEqual(days);
  });

  test.each(["someday", "tu", "mon-", "mon-tue-wed", "[mon, 3]", "[]", "5"])("days: %s is refused", async (written) => {
    const told = await said(TEXT.replace("[tue, wed]", written));
    expect(told).toMatch(/^t\.yaml:4:\d+: opening\.days(\[1\])?: found .*; expected (weekdays, such as "tue-sun"|at least one weekday)/);
  });

  test.each([
    ["3:02", 182],
    ["1:02:03", 3723],
    ["3m", 180],
    ["3m 20s", 200],
  ])("step: %s", (written, seconds) => {
    const { timer } = parseScenario(TEXT.replace("step: 73 s", `step: ${written}`), "t.yaml").boards[1]!;
    expect(timer).toMatchObject({ step: seconds });
  });

  test("a house that no output lights is a warning, marked as one, and the file is good", async () => {
    await writeFile(join(root, "dark.yaml"), TEXT.replace("  mill: { zone: hill }", "  mill: { zone: hill }\n  chapel: { zone: hill }"));
    const { status, stderr } = await lampdrift(["check", "dark.yaml"], { cwd: root });
    expect({ status, stderr }).toEqual({ status: 0, stderr: "dark.yaml:15:11: warning: houses.chapel: no output lights this house, and it stays dark\n" });
  });

  test("null for a key that the base does not have suggests the one that is meant", async () => {
    const cwd = join(root, "null");
    await mkdir(cwd);
    await writeFile(join(cwd, "base.yaml"), TEXT);
    const check = async (own: string): Promise<string> => {
      await writeFile(join(cwd, "v.yaml"), `base: base.yaml\n${own}\n`);
      return unwrapped((await lampdrift(["check", "v.yaml"], { cwd })).stderr);
    };
    expect(await check("boards: { hil: null }")).toContain('v.yaml:2:16: boards.hil: found nothing, which takes a key of the base away, but the base has no "hil"; did you mean "hill"?');
    expect(await check("houses: { bakry: null }")).toContain('warning: houses.bakry: no output lights this house, and it stays dark; the base has no "bakry" to take away: did you mean "bakery"?');
  });
});

describe("fault and the drill take names, and ask what a bare number means", () => {
  const tidewater = demo("tidewater-lane");

  test("a house is found by its name as by its id", async () => {
    const asked = (house: string): Promise<string> => lampdrift(["fault", tidewater, "--dark", house, "--watched", "40 min"]).then(({ stdout }) => stdout);
    const { id, name } = (await readScenario(tidewater)).houses.find((house) => house.name.includes(" "))!;
    expect(await asked(name)).toBe(await asked(id));
    const { stdout } = await lampdrift(["fault", tidewater, "--drill", "x"], { input: `watch ${name} 12 min\nwatch ${id} 12:00\nwatch ${id} 12\nboard quay 7\n` });
    const lines = stdout.split("\n").filter((line) => line.startsWith(`${name}: `));
    expect(lines).toHaveLength(2);
    expect(lines[0]).toBe(lines[1]);
    expect(unwrapped(stdout)).toContain('12 minutes or seconds? Write "12 min" or "12 s"');
    expect(unwrapped(stdout)).toContain('7 minutes or seconds? Write "7 min" or "7 s"');
  });

  test("the drill tells again what to type, and takes a name in quotes", async () => {
    const { stdout } = await lampdrift(["fault", tidewater, "--drill", "x"], { input: 'help\nwatch "Three Gulls Inn" 12 min\n' });
    expect(stdout.split("Such as: watch bakery 12 min")).toHaveLength(3);
    expect(stdout).toContain("Three Gulls Inn: ");
    expect(stdout).not.toContain("not understood");
  });

  test.each([["--watched", "40"], ["--lit-at", "inn@12"]])("%s %s", async (option, value) => {
    const { status, stdout, stderr } = await lampdrift(["fault", tidewater, "--dark", "bakery", option, value]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toMatch(/found "(40|12)"; minutes or seconds\? Write "(40|12) min" or "(40|12) s"/);
  });

  test("without --watched it says that it does not know, and what it takes instead", async () => {
    const { stdout } = await lampdrift(["fault", tidewater, "--dark", "bakery"]);
    expect(unwrapped(stdout)).toContain("For how long one watched is not known.");
    expect(unwrapped(stdout)).toMatch(/ranked as if seen throughout the first [\d hmins]+ after switch-on/);
    const json = JSON.parse((await lampdrift(["fault", tidewater, "--dark", "bakery", "--json"])).stdout) as Record<string, unknown>;
    expect(json).toMatchObject({ watchedKnown: false });
    const watched = await lampdrift(["fault", tidewater, "--dark", "bakery", "--watched", "40 min"]);
    expect(watched.stdout).not.toContain("is not known");
  });
});
