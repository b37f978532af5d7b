import { execFileSync } from "node:child_process";
import { copyFile, mkdir, mkdtemp, readdir, truncate, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { listing, project, scratch, type Outcome } from "./command.js";
import { often } from "../thorough.js";
import { lampdrift } from "./inprocess.js";

/** For each line that a message must have: its place, the path of the key, and what else it says, in order. */
type Line = readonly [place: string, path: string, ...says: string[]];

const ID = "expected a name of letters, digits, - and _ that begins with a letter";

const messages: Readonly<Record<string, readonly Line[]>> = {
  "a-list": [["1:1", "", "found a list; expected a scenario: a mapping with the keys lampdrift, title"]],
  "alias-bomb": [["3:8", "", "more than 100 values stand behind aliases"]],
  "alias-to-nothing": [["2:8", "title", "*nowhere leads nowhere"]],
  "bad-taps": [
    ["7:43", "boards.quay.counter.taps", "these taps give 6 steps, not the full 15", "[4, 3] would do"],
    ["11:43", "boards.hill.counter.taps", "found tap 5", "expected stages 1 to 4"],
    ["15:14", "boards.lane.counter.taps", "missing", "such as [2, 1]"],
  ],
  "carry-circle": [
    ["6:33", "boards.quay.timer.from", "circle", "quay from hill from village from quay", "needs a timer of its own"],
    ["18:33", "boards.mirror.timer.from", "circle", "mirror from mirror"],
  ],
  "inherited-names": [
    ["6:33", "boards.quay.timer.from", 'no board is called "hasOwnProperty"; boards: quay'],
    ["8:35", "boards.quay.outputs.1", 'no house is called "valueOf"; houses: constructor, toString'],
    ["8:72", "boards.quay.outputs.2.lamp", 'no kind of lamp is called "constructor"; lamps: lamp'],
  ],
  "control-characters": [
    ["2:8", "title", String.raw`found "Red \u001b[31m alert"`, "on one line"],
    ["6:20", "boards.quay.timer.kind", String.raw`found "\u001b]0;gotcha\u0007"`, "kinds: astable, measured, quartz, carry"],
    ["7:38", String.raw`boards.quay.counter."\u001b[2J\u001b[1;1Hall is well"`, "unknown key"],
    ["7:68", String.raw`boards.quay.counter."a\nb"`, "unknown key"],
    ["7:79", 'boards.quay.counter."31m"', "unknown key"],
    ["7:90", 'boards.quay.counter."evil"', "unknown key"],
    ["8:19", "boards.quay.outputs.0", String.raw`found "\u001b[5minn\r\b"`, ID],
    ["8:38", "boards.quay.outputs.1", 'found "5m"', ID],
  ],
  "duplicate-key": [
    ["10:7", "boards.quay.outputs.0", "stands twice", "keep one"],
    ["11:1", "title", "stands twice", "keep one"],
  ],
  "empty": [["", "", "the file is empty", "lampdrift new"]],
  "no-such-output": [
    ["8:24", "boards.quay.outputs.4", "no output 4; its outputs are 0 to 3"],
    ["12:16", "boards.hill.outputs.3", "no output 3; its outputs are 0 to 2"],
  ],
  "not-an-output": [["8:24", "boards.hill.outputs.-1", 'found "-1"; expected an output number: 0, 1, 2']],
  "no-yaml": [
    ["1:1", "boards", "missing"],
    ["2:1", "", "has no end; expected ] behind it"],
  ],
  "only-comments": [["1:1", "", "missing; expected a scenario: a mapping"]],
  "out-of-reach": [
    // 0.6931 · (47k + 200k + 200k) · 100 uF = 30.98 s and 0.6931 · (47k + 100k + 100k) · 100 uF = 17.12 s
    ["6:5", "boards.slow.timer", "cannot reach setTo 5 min", "longest step", "31 s"],
    ["10:5", "boards.fast.timer", "cannot reach setTo 10 s", "shortest step", "17.1 s"],
  ],
  "proto": [["5:3", "houses.__proto__", "cannot be a name"]],
  "several": [
    ["3:34", "opening.until", 'found "25:00"; expected a time of day', 'at most "24:00"'],
    ["9:34", "boards.quay.timer.step", 'found "60 parsecs"; expected a duration such as "200 s"'],
    ["13:16", "boards.quay.outputs.1[1]", 'no house is called "mil"; did you mean "mill"? houses: inn, mill'],
    ["14:7", "boards.quay.outputs.7", "no output 7; its outputs are 0 to 3"],
    ["16:33", "boards.hill.timer.from", 'no board is called "quai"; did you mean "quay"? boards: quay, hill'],
    ["18:40", "boards.hill.outputs.0.lamp", 'no kind of lamp is called "lantern"; lamps: lamp'],
  ],
  // 2 uA · 2 MOhm = 4 V = V/3: the threshold is just never reached
  "stalls": [["7:5", "boards.quay.timer", "stalls", "2 µA through 2 MΩ drops 4 V", "divide", "film type"]],
  "too-fine": [
    // 0.6931 · 3 Ohm · 10 nF = 20.8 ns
    ["7:5", "boards.quay.timer", "a timer period of 0.0208 µs", "100 µs", "smaller divide"],
    ["11:5", "boards.hill.timer", "held for 1e-12", "larger factors in hold"],
  ],
  // 210 hours of 1 ms steps are 756 million; a day of 7 hours is 25.2 million
  "too-long": [["", "", "756,012,600 clock pulses", "limit of 40,000,000", 'board "flicker" alone', "longer step"]],
  "too-long-held": [["", "", "756,000,000 clock pulses", 'board "quay" alone']],
  "unknown-board": [["10:33", "boards.tower.timer.from", 'no board is called "qay"; did you mean "quay"? boards: quay, tower']],
  "unknown-house": [
    ["9:10", "boards.quay.outputs.0", 'no house is called "bakrey"; did you mean "bakery"? houses: bakery, chandler'],
    ["10:19", "boards.quay.outputs.1[1]", 'no house is called "lighthouse"; houses: bakery, chandler'],
    ["11:19", "boards.quay.outputs.2.house", 'no house is called "Chandler"; did you mean "chandler"?'],
  ],
  "unknown-key": [
    ["3:27", "opening.untill", 'unknown key; did you mean "until"? known keys here: days, from, until, overnight, run'],
    ["8:28", "boards.quay.counter.stpes", 'unknown key; did you mean "steps"?'],
    ["10:1", "colour", "unknown key; known keys here: lampdrift, title, picture, seed"],
  ],
  "unknown-lamp": [["11:39", "boards.quay.outputs.0.lamp", 'no kind of lamp is called "lanter"; did you mean "lantern"? lamps: window, lantern']],
  "unknown-zone": [["10:22", "promises[0].zoneLit.zone", 'no house is in zone "hil"; did you mean "hill"? zones: quay, hill']],
  "until-before-from": [["5:10", "opening.until", 'found "10:00"; expected a time later than "from"']],
  "vanishing": [["", "", "48000 powered hours", 'drift of board "quay"', "smaller drift"]],
  "wrong-shapes": [
    ["1:12", "lampdrift", "found 2; expected 1"],
    ["2:8", "title", String.raw`found "Two\nlines"; expected text of 1 to 200 characters on one line`],
    ["3:10", "opening", 'found "open"; expected opening hours: a mapping'],
    ["4:9", "houses", "found a list; expected a mapping"],
    ["7:12", "boards.quay.timer", 'found "quartz"; expected a timer: a mapping with kind'],
    ["8:22", "boards.quay.counter.kind", 'found "round"', "kinds: ring, johnson, binary, lfsr, table, shuffle"],
    ["9:19", "boards.quay.outputs.0", "found 5; expected a house"],
    ["10:3", 'boards."two words"', 'found "two words"', ID],
    ["12:5", "promises[0]", "found a mapping; expected exactly one promise an entry"],
    ["13:5", "promises[1]", "found a mapping; expected exactly one promise an entry"],
  ],
  "wrong-units": [
    ["3:15", "room.mean", 'found "300 °C"; expected a temperature', "at most 60 °C"],
    ["4:19", "visitors.stay", 'found "-5 min"; expected a duration', "more than 0 s"],
    ["4:36", "visitors.returns", 'found "1 h"; expected a list of durations'],
    ["5:18", "supply.volts", 'found "12 A"; expected a voltage'],
    ["5:31", "supply.limit", "found Infinity; expected a current"],
    ["6:26", "houses.inn.at[1]", "found NaN; expected a number"],
    ["9:33", "boards.quay.timer.ra", 'found "100 uF"; expected a resistance'],
    ["9:45", "boards.quay.timer.rb", 'found "47k ± 200 %"; expected a resistance'],
    ["9:61", "boards.quay.timer.c", 'found "4k7"; expected a capacitance'],
    ["9:74", "boards.quay.timer.jitter", 'found "90 %"; expected a share', "at most 20 %"],
    ["9:88", "boards.quay.timer.divide", "found 1.5; expected a whole number"],
    ["10:35", "boards.quay.counter.steps", "found 1000000000; expected a whole number"],
    ["11:24", "boards.quay.outputs.one", 'found "one"; expected an output number'],
  ],
};

const folder = join(project, "test/endtoend/broken");
const root = await scratch();

/** What holds of every refusal, whatever is wrong. */
function expectRefusal({ status, stdout, stderr }: Outcome): void {
  expect(status).toBe(2);
  expect(stdout).toBe("");
  expect(stderr).not.toBe("");
  expect(stderr).toMatch(/\n$/);
  expect(stderr, "a stack trace").not.toMatch(/^\s+at |node:internal|\.js:\d/m);
  expect(stderr).not.toContain("a fault of its own");
  // nothing but printable characters and line ends reaches the terminal
  expect(stderr, "a control character").not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/);
}

function expectLines(stderr: string, file: string, lines: readonly Line[]): void {
  const told = stderr.trimEnd().split("\n");
  if (lines.length > 1) expect(told.pop()).toBe(`${lines.length} problems in ${file}`);
  expect(told.length, stderr).toBe(lines.length);
  lines.forEach(([place, path, ...says], i) => {
    const where = `${file}${place === "" ? "" : `:${place}`}: ${path === "" ? "" : `${path}: `}`;
    expect(told[i]!.slice(0, where.length)).toBe(where);
    let from = where.length;
    for (const part of says) {
      const at = told[i]!.indexOf(part, from);
      expect(at, `"${part}" in: ${told[i]!}`).toBeGreaterThanOrEqual(0);
      from = at + part.length;
    }
  });
}

/** Runs a command on a file in a directory of its own, which must hold nothing else afterwards. */
async function refused(file: string, place: (path: string) => Promise<void>, command = "report"): Promise<string> {
  const cwd = await mkdtemp(join(root, "case-"));
  await place(join(cwd, file));
  const before = await listing(cwd);
  const outcome = await lampdrift([command, file], { cwd });
  expectRefusal(outcome);
  expect(await listing(cwd), "something was written").toEqual(before);
  return outcome.stderr;
}

describe("a broken file is refused with its place, what was found and what would do", () => {
  test("every file of the collection is looked at", async () => {
    const files = (await readdir(folder)).map((name) => name.replace(/\.yaml$/, ""));
    expect(files.sort()).toEqual(Object.keys(messages).sort());
    expect(files.length).toBeGreaterThanOrEqual(15);
  });

  test.each(Object.entries(messages))("%s", async (name, lines) => {
    const file = `${name}.yaml`;
    expectLines(await refused(file, (path) => copyFile(join(folder, file), path)), file, lines);
  });

  test.each(["check", "run", "spread", "hunt", "report"])("by %s as well as by any other command", async (command) => {
    const stderr = await refused("several.yaml", (path) => copyFile(join(folder, "several.yaml"), path), command);
    expectLines(stderr, "several.yaml", messages["several"]!);
  });

  test("in JSON just the same", async () => {
    const outcome = await lampdrift(["run", "--json", "several.yaml"], { cwd: folder });
    expectRefusal(outcome);
    expectLines(outcome.stderr, "several.yaml", messages["several"]!);
  });
});

describe("what is no scenario file at all is refused", () => {
  test("a name that is not there", async () => {
    expect(await refused("missing.yaml", () => Promise.resolve())).toBe("missing.yaml: there is no such file\n");
  });

  test("a directory", async () => {
    expect(await refused("harbour.yaml", (path) => mkdir(path).then(() => undefined))).toMatch(/^harbour\.yaml: this is a directory; expected a scenario file\n$/);
  });

  test("a device that never ends", async () => {
    const outcome = await lampdrift(["run", "/dev/zero"]);
    expectRefusal(outcome);
    expect(outcome.stderr).toBe("/dev/zero: this is not a regular file; expected a scenario file\n");
  });

  test("a pipe that nobody writes into", async () => {
    const stderr = await refused("pipe.yaml", (path) => {
      execFileSync("mkfifo", [path]);
      return Promise.resolve();
    });
    expect(stderr).toBe("pipe.yaml: this is not a regular file; expected a scenario file\n");
  });

  test("text that is not UTF-8", async () => {
    // "Bäckerei" in Latin-1, and a UTF-16 file
    const latin = await refused("latin.yaml", (path) => writeFile(path, Buffer.from("lampdrift: 1\ntitle: B\xe4ckerei\n", "latin1")));
    expect(latin).toBe("latin.yaml: the file is not UTF-8 text; save it as UTF-8\n");
    const wide = await refused("wide.yaml", (path) => writeFile(path, Buffer.from("\ufefflampdrift: 1\n", "utf16le")));
    expect(wide).toBe("wide.yaml: the file is not UTF-8 text; save it as UTF-8\n");
  });

  test("100 MB of nothing, without reading it", async () => {
    const place = async (path: string): Promise<void> => {
      await writeFile(path, "lampdrift: 1\n");
      await truncate(path, 100_000_000);
    };
    const told = "the file has 100,000,000 bytes; at most 500,000 are read: a scenario file is a few pages of text";
    expect(await refused("huge.yaml", place)).toBe(`huge.yaml: ${told}\n`);
  });

  test.each([
    ["returns.yaml", "lampdrift: 1\rtitle: x\r", "returns.yaml: the lines of this file end by a carriage return alone; save it with line feeds\n"],
    ["nul.yaml", "lampdrift: 1\ntitle: x\n\0", "nul.yaml:3:1: a character without meaning (NUL) stands here; save the file as plain text\n"],
    ["tag.yaml", "lampdrift: 1\ntitle: !foo x\n", "tag.yaml:2:13: title: !foo is a tag that means nothing here; take it out\n"],
    ["key.yaml", "? [a, b]\n: 1\n", "key.yaml:1:3: a list or mapping stands here as a key; a key is one word with a colon behind it\n"],
  ])("%s", async (name, text, told) => {
    expect(await refused(name, (path) => writeFile(path, text))).toBe(told);
  });

  test("a path with control characters, without sending them to the terminal", async () => {
    const outcome = await lampdrift(["run", "no\u001b[31m such\u009b file\n.yaml"]);
    expectRefusal(outcome);
    expect(outcome.stderr).toContain("there is no such file");
  });
});

describe("a file made to exhaust the reader is refused in time", () => {
  const [DEEP, WIDE] = [often(30_000, 100_000), often(400, 4000)];
  const cases: readonly (readonly [name: string, text: () => string, says: string])[] = [
    ["lists in lists", () => `lampdrift: 1\ntitle: ${"[".repeat(DEEP)}${"]".repeat(DEEP)}\n`, "nested too deeply"],
    ["lists that are never closed", () => `lampdrift: 1\ntitle: ${"[".repeat(2 * DEEP)}`, "nested too deeply"],
    ["mappings in mappings", () => `lampdrift: 1\ntitle: ${"{a: ".repeat(DEEP / 2)}${"}".repeat(DEEP / 2)}\n`, "nested too deeply"],
    ["blocks in blocks", () => Array.from({ length: 900 }, (_, i) => `${" ".repeat(i)}a:\n`).join(""), "nested too deeply"],
    ["a mapping of 40,000 keys", () => Array.from({ length: 40_000 }, (_, i) => `k${i}: 1\n`).join(""), "40000 entries; expected at most 5000"],
    ["aliases of aliases, each ten times", () => bomb(10, 20), "100 values stand behind aliases"],
    ["an alias of itself", () => "lampdrift: 1\ntitle: x\nhouses: &h { inn: *h }\n", "houses.inn.inn: unknown key"],
    [
      "many references to nothing",
      () => `lampdrift: 1\ntitle: x\nhouses: { ${many("h", WIDE)} }\nboards:\n  q: { timer: { kind: quartz, step: 60 }, counter: { kind: ring, steps: 10 }, outputs: { ${Array.from({ length: 5 }, (_, i) => `${i}: [${many("x", WIDE)}]`).join(", ")} } }\n`,
      "more of them",
    ],
    ["600 boards", () => `lampdrift: 1\ntitle: x\nhouses: { a: {} }\nboards: { ${many("b", 600)} }\n`, "found 600 boards; expected at most 500"],
    ["a number of 100,000 digits", () => `lampdrift: 1\ntitle: x\nhouses: { a: { at: [${"9".repeat(100_000)}, 1] } }\nboards: {}\n`, "found Infinity"],
    ["a key of 1,000 letters", () => `lampdrift: 1\ntitle: x\n${"k".repeat(1000)}: 1\n`, "unknown key"],
  ];

  test.each(cases)("%s", { timeout: 20_000 }, async (_, text, says) => {
    const stderr = await refused("long.yaml", (path) => writeFile(path, text()));
    expect(stderr).toContain(says);
  });

  test("a run of more pulses than anybody waits for is refused before it starts", async () => {
    const stderr = await refused("too-long.yaml", (path) => copyFile(join(folder, "too-long.yaml"), path), "run");
    expect(stderr).toContain("756,012,600 clock pulses");
  });
});

/** Names a0, a1, … with nothing behind them. */
function many(letter: string, count: number): string {
  return Array.from({ length: count }, (_, i) => `${letter}${i}`).join(", ");
}

/** Lists that each hold the one before several times. */
function bomb(times: number, levels: number): string {
  const lines = ["a0: &a0 [x]"];
  for (let i = 1; i < levels; i++) lines.push(`a${i}: &a${i} [${Array<string>(times).fill(`*a${i - 1}`).join(", ")}]`);
  return `${lines.join("\n")}\n`;
}
