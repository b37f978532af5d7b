import { spawn } from "node:child_process";
import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { cli, demo, lampdriftProcess, listing, program, scratch, type Outcome } from "./command.js";
import { thorough } from "../thorough.js";
import { lampdrift } from "./inprocess.js";

/* What only a process of its own can show; everything else about the commands is tested in process. */
const root = await scratch();

/** A directory of its own for a test. */
async function room(name: string): Promise<string> {
  const directory = join(root, name);
  await mkdir(directory);
  return directory;
}

const tiny = join(root, "tiny.yaml");
await writeFile(
  tiny,
  `lampdrift: 1
title: Tiny
opening: { from: "10:00", until: "11:00", run: 2 }
houses: { inn: , mill: }
boards:
  quay:
    timer: { kind: astable, ra: 47k 1 %, rb: 100k 1 %, c: 100u, trimmer: { value: 500k 20 %, in: rb }, setTo: 40 s }
    counter: { kind: ring, steps: 3 }
    outputs: { 0: inn, 1: mill }
promises: [ step: { to: 60 s } ]
`,
);
const log = join(root, "log.csv");
await writeFile(log, `board,time\n${Array.from({ length: 12 }, (_, i) => `quay,${40 * i + (i % 3) / 10}`).join("\n")}\n`);

describe("as a process a command does what it does in process", () => {
  test.each([
    ["new", ["display.yaml"]],
    ["check", [tiny, "--json"]],
    ["spread", [tiny, "--builds", "20", "--workers", "2"]],
    ["hunt", [tiny, "--tries", "5"]],
    ["parts", ["--range", "30 s..2 min"]],
    ["fit", [log]],
    ["cards", [tiny, "-o", "out"]],
    // other tests run these as processes, too
    ...(thorough ? ([["tune", [tiny, "--builds", "1"]], ["compare", [tiny, tiny, "--builds", "2"]], ["fault", [tiny, "--dark", "inn"]]] as [string, string[]][]) : []),
  ])("%s", async (command, args) => {
    const [there, here] = [await room(`${command}-there`), await room(`${command}-here`)];
    const outcome = await lampdriftProcess([command, ...args], { cwd: there });
    expect(outcome).toEqual(await lampdrift([command, ...args], { cwd: here }));
    expect([0, 1]).toContain(outcome.status);
    expect(outcome.stdout + outcome.stderr).not.toBe("");
    expect(await listing(there)).toEqual(await listing(here));
  });

  test("fault --drill, with answers on standard input", async () => {
    const child = spawn(process.execPath, [cli, "fault", tiny, "--drill", "first"]);
    let stdout = "";
    child.stdout.on("data", (data: Buffer) => (stdout += data.toString()));
    child.stdin.end("watch inn 30 min\ngive up\n");
    expect(await new Promise((resolve) => child.on("close", resolve))).toBe(0);
    expect(stdout).toBe((await lampdrift(["fault", tiny, "--drill", "first"], { input: "watch inn 30 min\ngive up\n" })).stdout);
    expect(stdout).toContain("The fault was number");
  });

  test("bad usage ends with status 2", async () => {
    const outcome = await lampdriftProcess(["runn"]);
    expect(outcome).toEqual(await lampdrift(["runn"]));
    expect(outcome.status).toBe(2);
  });
});

describe("whatever the clock, the language and the time zone", () => {
  /** Sources of all that was loaded, in any way: the engine's coverage names the scripts, and these name what they are made of. */
  const loaded = async (coverage: string): Promise<string> => {
    const found = await Promise.all((await readdir(coverage)).map((file) => readFile(join(coverage, file), "utf8")));
    const urls = found.flatMap((text) => (JSON.parse(text) as { result: { url: string }[] }).result.map(({ url }) => url));
    const scripts = [...new Set(urls)].filter((url) => url.startsWith("file:")).map((url) => readFile(new URL(url), "utf8"));
    return (await Promise.all(scripts)).flatMap((text) => text.match(/^\/\/ \S+\.[jt]s$/gm) ?? []).join("\n");
  };
  const far = { TZ: "Pacific/Kiritimati", LANG: "de_DE.UTF-8", LC_ALL: "tr_TR.UTF-8" };

  test("run prints the same bytes, and loads nothing to draw with", async () => {
    const coverage = await room("run-coverage");
    const outcome = await lampdriftProcess(["run", tiny, "--json"], { env: { ...far, NODE_V8_COVERAGE: coverage } });
    expect(outcome).toEqual(await lampdrift(["run", tiny, "--json"]));
    expect(outcome.status).toBe(0);
    const scripts = await loaded(coverage);
    expect(scripts).toContain("// sim/engine/simulate.ts");
    expect(scripts).toContain("// node_modules/yaml/");
    expect(scripts).not.toContain("// node_modules/@xmldom/");
  });

  test("report writes the same bytes; it draws with a document of XML alone", async () => {
    const [there, here, coverage] = [await room("report-there"), await room("report-here"), await room("report-coverage")];
    const args = ["report", tiny, "--builds", "3", "-o", "out"];
    const outcome = await lampdriftProcess(args, { cwd: there, env: { ...far, NODE_V8_COVERAGE: coverage } });
    expect(outcome).toEqual(await lampdrift(args, { cwd: here }));
    const names = await readdir(join(there, "out"));
    expect(names.length).toBeGreaterThan(5);
    expect(await readdir(join(here, "out"))).toEqual(names);
    for (const name of names) expect((await readFile(join(there, "out", name))).equals(await readFile(join(here, "out", name))), name).toBe(true);
    const scripts = await loaded(coverage);
    expect(scripts).toContain("// node_modules/@xmldom/");
    expect(scripts).not.toContain("// node_modules/jsdom/");
  });
});

describe("output that nobody reads to its end", () => {
  const shell = (line: string, file = demo("tidewater-lane")): Promise<Outcome> =>
    program("bash", ["-c", `"$NODE" "$CLI" ${line}; echo "\${PIPESTATUS[0]}" >&2`], { env: { NODE: process.execPath, CLI: cli, FILE: file } });

  test.each(['run "$FILE" --json | head -1', 'check "$FILE" | true', "--help | true"])("is no fault: %s", async (line) => {
    expect((await shell(line)).stderr).toBe("0\n");
  });

  test("does not hide a bad file: the status still tells", async () => {
    expect((await shell('run "$FILE" 2>&1 | true', "missing.yaml")).stderr).toBe("2\n");
  });

  test("does not hide a broken promise either", async () => {
    const broken = join(root, "broken-promise.yaml");
    await writeFile(broken, (await readFile(tiny, "utf8")).replace("to: 60 s", "to: 20 s"));
    expect((await shell('check "$FILE" --json | true', broken)).stderr).toBe("1\n");
  });

  test("a new file for which there is no room leaves nothing behind", async () => {
    const directory = await room("full");
    // a file may not grow beyond a block of 512 bytes
    const { stderr } = await program("bash", ["-c", 'ulimit -f 1; trap "" XFSZ; "$NODE" "$CLI" new display.yaml; echo $? >&2'], {
      cwd: directory,
      env: { NODE: process.execPath, CLI: cli },
    });
    expect(stderr).toMatch(/cannot write display\.yaml: .*\n2\n$/);
    expect(await listing(directory)).toEqual([]);
  });

  test("is told when there is no room for it", async () => {
    const { stderr } = await shell('run "$FILE" --json > /dev/full', tiny);
    expect(stderr).toBe("cannot write the result: the disk is full\n2\n");
  });
});

describe("Ctrl-C ends with what is finished", () => {
  test.each([
    ["spread", ["--builds", "1000000"], [0, 1], { partial: true }],
    ["tune", ["--builds", "10000"], [130], { stopped: true }],
    ["hunt", ["--tries", "1000000"], [130], { stopped: true }],
  ])("%s", async (command, args, statuses, told) => {
    const interrupted = async (delay: number): Promise<{ status: number | null; stdout: string }> => {
      const child = spawn(process.execPath, [cli, command, tiny, ...args, "--workers", "1", "--json"]);
      let stdout = "";
      child.stdout.on("data", (data: Buffer) => (stdout += data.toString()));
      setTimeout(() => child.kill("SIGINT"), delay);
      return new Promise((resolve) => child.on("close", (status) => resolve({ status, stdout })));
    };
    let outcome = await interrupted(600);
    // ended by the signal: it was not yet listening, on a machine with much to do
    for (let delay = 1200; outcome.status === null && delay < 30_000; delay *= 2) outcome = await interrupted(delay);
    expect(statuses).toContain(outcome.status);
    expect(JSON.parse(outcome.stdout)).toMatchObject(told);
  });
});
