import { createHash } from "node:crypto";
import { lstat, mkdir, readdir, readFile, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { Readable, Writable } from "node:stream";
import { describe, expect, test } from "vitest";
import { main } from "../../reports/main.js";
import { GIVEN, WRITERS } from "../fuzz/writers.js";
import { listing, scratch } from "./command.js";
import { lampdrift } from "./inprocess.js";

/* What commands refuse, and what they leave as it is, by the real commands; `folders.test.ts` looks at the writing by itself. */
const root = await scratch();
for (const [name, text] of Object.entries(GIVEN)) await writeFile(join(root, name), text);

let rooms = 0;
/** A directory of its own with what the commands are given. */
async function room(): Promise<string> {
  const directory = join(root, `room-${rooms++}`);
  await mkdir(directory);
  for (const [name, text] of Object.entries(GIVEN)) await writeFile(join(directory, name), text);
  return directory;
}

/** The arguments of a command that writes, into `place` alone; those that make a folder are given one. */
const into = (name: string, place: string): string[] => WRITERS[name]!.args.map((arg) => (arg.startsWith("out") ? place : arg));

describe("refused with what would do", () => {
  test.each(Object.keys(WRITERS))("%s: a name that is empty, before any work, and nothing is written", async (name) => {
    const cwd = await room();
    const before = await listing(cwd);
    for (const empty of ["", "  "]) {
      const { status, stdout, stderr } = await lampdrift(into(name, empty), { cwd });
      expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
      expect(stderr).toMatch(/^lampdrift: .*'\s*' is invalid.* The name is empty; give one\.\n/);
    }
    expect(await listing(cwd)).toEqual(before);
  });

  test.each([
    [["report", "display.yaml", "--day", "0x2"], /--day.*'0x2' is invalid\. Expected a whole number from 1/],
    [["report", "display.yaml", "--day", "1e0"], /--day.*Expected a whole number from 1/],
    [["spread", "display.yaml", "--builds", "0x10"], /--builds.*Expected a whole number from 1/],
    [["spread", "display.yaml", "--workers", "+2"], /--workers.*Expected a whole number from 1 to 64/],
    [["run", "display.yaml", "--build", "."], /^\.: this is a directory; expected a build as hunt --json prints it\n$/],
    [["run", "display.yaml", "--build", "/dev/zero"], /^\/dev\/zero: this is not a regular file; expected a build as hunt --json prints it\n$/],
    [["parts", "--range", "30 s..2 min", "--stock", "."], /^\.: this is a directory; expected (?!a scenario)/],
    [["fit", "."], /^\.: this is a directory; expected (?!a scenario)/],
  ])("lampdrift %j", async (args, says) => {
    const { status, stdout, stderr } = await lampdrift(args, { cwd: root });
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toMatch(says);
  });

  test("a file that is one byte too long, with sizes that differ", async () => {
    await writeFile(join(root, "long.yaml"), `${GIVEN["display.yaml"]!}${"#".repeat(500_001 - GIVEN["display.yaml"]!.length)}`);
    const { stderr } = await lampdrift(["check", "long.yaml"], { cwd: root });
    expect(stderr).toBe("long.yaml: the file has 500,001 bytes; at most 500,000 are read: a scenario file is a few pages of text\n");
    await writeFile(join(root, "long.yaml"), `${GIVEN["display.yaml"]!}${"#".repeat(500_000 - GIVEN["display.yaml"]!.length)}`);
    expect((await lampdrift(["check", "long.yaml"], { cwd: root })).status).toBe(0);
  });

  test("a timer that stalls, with a current that reads as one writes it", async () => {
    // 10 µA and the 10 pA of a CMOS chip's threshold pin are in doubles 10.000010000000002 µA; 10 µA through 1.47 MΩ are 14.7 V
    const timer = "kind: astable, chip: cmos, ra: 470k, rb: 1M, c: { value: 100u, leakage: 10 uA }";
    await writeFile(
      join(root, "stalls.yaml"),
      `lampdrift: 1\ntitle: Stalls\nhouses: { inn: }\nboards: { q: { timer: { ${timer} }, counter: { kind: ring, steps: 3 }, outputs: { 0: inn } } }\n`,
    );
    const { status, stderr } = await lampdrift(["check", "stalls.yaml"], { cwd: root });
    expect(status).toBe(2);
    expect(stderr).toMatch(/: the timer stalls: 10 µA through 1\.47 MΩ drops 14\.7 V, /);
  });
});

/** What a report's folder says of itself: the files it should have, with their digests. */
async function manifest(folder: string): Promise<Record<string, string>> {
  return (JSON.parse(await readFile(join(folder, ".made.json"), "utf8")) as { report: Record<string, string> }).report;
}

async function expectWhole(folder: string, besides: readonly string[] = []): Promise<void> {
  const files = await manifest(folder);
  expect((await readdir(folder)).sort()).toEqual([...Object.keys(files), ".made.json", ...besides].sort());
  for (const [name, digest] of Object.entries(files)) {
    expect(createHash("sha256").update(await readFile(join(folder, name))).digest("hex"), name).toBe(digest);
  }
}

describe("the folder of a report", () => {
  const report = (scenario: string, out: string): string[] => ["report", join(root, scenario), "--builds", "0", "-o", out];

  test("is of one making when two write into it at once", async () => {
    const out = join(await room(), "out");
    const silent = (): Writable => new Writable({ write: (_, __, done) => done() });
    const started = ["display.yaml", "other.yaml"].map((scenario) => main(report(scenario, out), {
      stdin: Readable.from([]),
      stdout: silent(),
      stderr: silent(),
      once: () => undefined,
      off: () => undefined,
    }));
    expect(await Promise.all(started)).toEqual([0, 0]);
    await expectWhole(out);
    const { scenario } = JSON.parse(await readFile(join(out, "figures.json"), "utf8")) as { scenario: { title: string } };
    const [, title] = /<title>[^<]*?(Smaller|Small)\b/.exec(await readFile(join(out, "index.html"), "utf8"))!;
    expect(title).toBe(scenario.title);
  });

  test("is rid of what killed ones left, and of files that its display no longer has; a link is replaced, not followed", async () => {
    const cwd = await room();
    const out = join(cwd, "out");
    await mkdir(join(out, ".draft-0123456789ab"), { recursive: true });
    await writeFile(join(out, ".draft-0123456789ab", "index.html"), "half");
    // no process has this number
    await writeFile(join(out, ".making"), "4194305");
    await writeFile(join(cwd, "precious.html"), "precious");
    await symlink("../precious.html", join(out, "index.html"));
    await writeFile(join(out, "notes.txt"), "mine");
    expect((await lampdrift(report("display.yaml", out))).status).toBe(0);
    await expectWhole(out, ["notes.txt"]);
    expect(await readFile(join(cwd, "precious.html"), "utf8")).toBe("precious");
    expect((await lstat(join(out, "index.html"))).isSymbolicLink()).toBe(false);
  });
});

test.each(["tune --map", "fit --picture", "export", "arrange -o"])("%s puts its file in the place of a link, and leaves what that leads to", async (name) => {
  const cwd = await room();
  const file = Object.keys(WRITERS[name]!.before)[0]!;
  await mkdir(join(cwd, "out"));
  await writeFile(join(cwd, "precious"), "precious");
  await symlink("../precious", join(cwd, "out", file));
  // of a process that is gone
  await writeFile(join(cwd, "out", `.${file}.4194305-0123456789ab.part`), "half");
  expect((await lampdrift(WRITERS[name]!.args, { cwd })).status).toBe(0);
  expect(await readFile(join(cwd, "precious"), "utf8")).toBe("precious");
  expect((await lstat(join(cwd, "out", file))).isSymbolicLink()).toBe(false);
  expect(await readdir(join(cwd, "out"))).toEqual([file]);
});
