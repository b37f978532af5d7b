import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, test } from "vitest";
import { smallHeap, unfitNode } from "../../reports/begin.js";
import { userMessage } from "../../reports/output/errors.js";
import { threads, threadsThatFit } from "../../sim/crew/threads.js";
import { thorough } from "../thorough.js";
import { demo, lampdriftProcess, program, project, scratch } from "./command.js";

/* Where the machine will not do, or gives out: a sentence, and a status. */
const root = await scratch();

describe("a Node that is too old", () => {
  test.each([
    ["10.24.1", false],
    ["18.20.8", false],
    ["20.18.3", false],
    ["20.19.0", true],
    ["20.20.2", true],
    ["21.7.3", false],
    ["22.12.0", false],
    ["22.13.0", true],
    ["23.11.1", false],
    ["24.0.0", true],
    ["25.1.0", true],
    ["104.0.0", true],
  ])("%s: %s", (version, fits) => {
    expect(unfitNode(version) === null).toBe(fits);
  });

  test("is what the package says, and what its tests need", async () => {
    const engines = async (path: string): Promise<string> =>
      (JSON.parse(await readFile(join(project, path), "utf8")) as { engines: { node: string } }).engines.node;
    expect(await engines("package.json")).toBe("^20.19.0 || ^22.13.0 || >=24.0.0");
    expect(await engines("node_modules/jsdom/package.json")).toBe(await engines("package.json"));
  });

  test("is told by every command, before anything is loaded that it cannot read", async () => {
    const stub = join(root, "old.mjs");
    await writeFile(stub, 'Object.defineProperty(process, "versions", { value: { ...process.versions, node: "18.20.8" } });\n');
    for (const entry of ["dist/bin/cli.js", "dist/reports/start.js"]) {
      const { status, stdout, stderr } = await program(process.execPath, ["--import", pathToFileURL(stub).href, join(project, entry), "report"]);
      expect({ status, stdout, stderr }).toEqual({
        status: 2,
        stdout: "",
        stderr: "lampdrift needs Node 20.19, 22.13, 24 or newer, and this is Node 18.20.8; https://nodejs.org has one\n",
      });
      // nothing else is read on the way there, and nothing in it that is younger than modules are
      const text = await readFile(join(project, entry), "utf8");
      expect(text.match(/^import .*$/gm)).toEqual(['import { begin } from "./begin.js";']);
    }
    const begin = await readFile(join(project, "dist/bin/begin.js"), "utf8");
    expect(begin).not.toMatch(/^import /m);
    expect(begin).not.toMatch(/\?\.|\?\?|^await |\bstatic |#\w|\d_\d/m);
  });
});

describe("too little memory", () => {
  test("for the heap is told beforehand", async () => {
    expect(smallHeap(4 * 2 ** 30)).toBeNull();
    const { status, stderr } = await lampdriftProcess(["check", demo("twin-boards")], { env: { NODE_OPTIONS: "--max-old-space-size=64" } });
    expect(stderr).toMatch(/^lampdrift needs \d+ MB of memory for its objects, and Node gives it \d+ MB here; .*\n$/);
    expect(status).toBe(2);
  });

  test("for what is asked is a sentence", () => {
    const thrown = (work: () => unknown): unknown => {
      try {
        return work();
      } catch (error) {
        return error;
      }
    };
    for (const work of [() => new Float64Array(2 ** 40), () => new Array<number>(2 ** 33), () => "x".repeat(2 ** 30)]) {
      expect(userMessage(thrown(work))).toMatch(/^the memory of this computer is not enough for this/);
    }
    expect(userMessage(new RangeError("the number of builds must be from 1 on"))).toBeUndefined();
  });
});

describe("threads", () => {
  test.each([
    [2, 8e9, 0, 2],
    [64, 16e9, 0, 64],
    // half of it for threads of 50 MB
    [64, 2e9, 0, 20],
    // a run near the limit of 1.4 GB
    [8, 8e9, 1.4e9, 2],
    [8, 1e9, 1.4e9, 1],
    [1, 8e9, 0, 2],
  ])("start only as many as %d processors and %d bytes of memory have room for, %d bytes each: %d", (processors, memory, bytes, threads) => {
    expect(threadsThatFit(processors, memory, bytes)).toBe(threads);
  });

  test("do not start for what fills the memory by itself", async () => {
    const nothing = { module: import.meta.url, prepare: () => () => 7 };
    const crew = threads(64)(nothing, null, { most: 64, bytes: 1e15 });
    expect(crew.size).toBe(1);
    expect(await crew.ask(null)).toBe(7);
    await crew.dismiss();
  });
});

describe.skipIf(!thorough)("a thread that is gone", () => {
  /** What is run with this in its environment loses a thread when that is about to answer. */
  const lost = async (name: string, how: string): Promise<string> => {
    const path = join(root, name);
    // a thread sees to its work alone, and to no timer
    await writeFile(path, `import { isMainThread } from "node:worker_threads";\nif (!isMainThread) Float64Array.prototype.set = () => { ${how} };\n`);
    return `--import ${pathToFileURL(path).href}`;
  };

  test.each([
    ["compare", "the system ended it", "gone.mjs", "process.exit(7);", ["compare", demo("twin-boards"), demo("starter"), "--builds", "4000"]],
    ["spread", "its memory was full", "full.mjs", "for (const all = []; ; ) all.push(new Array(1e5).fill(1.5));", ["spread", demo("twin-boards"), "--builds", "4000", "--workers", "2", "--json"]],
  ])("is told by %s: %s", async (_, why, name, how, args) => {
    const { status, stdout, stderr } = await lampdriftProcess(args, { env: { NODE_OPTIONS: `${await lost(name, how)} --max-old-space-size=280` } });
    expect(stderr).toMatch(/^a thread that simulated builds is gone before its work was done [^\n]*\n$/);
    expect(stderr).toContain(`(${why})`);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
  });
});
