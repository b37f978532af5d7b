import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test, vi } from "vitest";
import { demo, listing, scratch } from "./command.js";
import { lampdrift, unwrapped } from "./inprocess.js";

vi.setConfig({ testTimeout: 60_000 });

const folder = await scratch();

async function log(name: string, text: string): Promise<string> {
  const file = join(folder, name);
  await writeFile(file, text);
  return file;
}

/** Rows of boards that step exactly, all changes seen. */
const rows = (board: string, start: number, step: number, count: number): string =>
  Array.from({ length: count }, (_, i) => `${board},${(start + i * step).toFixed(1)}\n`).join("");

interface Found {
  readonly boards: readonly {
    readonly id: string;
    readonly stepSeconds: number;
    readonly low: number;
    readonly high: number;
    readonly jitterSeconds: number;
    readonly driftPerHour: number | null;
    readonly missed: number;
    readonly observations: number;
    readonly timer: string;
    readonly oddLines: readonly number[];
    readonly scenario?: { readonly verdict: string };
  }[];
}

describe("fit", () => {
  test("tells step, missed changes and rows of every board as JSON", async () => {
    const file = await log("two.csv", `board,time\n${rows("quay", 12, 170, 10)}quay,2052\nhill,0:03:40\nhill,0:07:20\nhill,0:11:01\n`);
    const { status, stdout, stderr } = await lampdrift(["fit", file, "--json"]);
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const [quay, hill] = (JSON.parse(stdout) as Found).boards;
    // the last change of quay, at 1712 s and 1882 s, was missed
    expect(quay).toMatchObject({ id: "quay", missed: 2, observations: 11, oddLines: [] });
    expect(quay!.stepSeconds).toBeCloseTo(170, 2);
    expect(quay!.low).toBeLessThan(170);
    expect(quay!.high).toBeGreaterThan(170);
    expect(hill).toMatchObject({ id: "hill", missed: 0, observations: 3, driftPerHour: null });
    expect(hill!.stepSeconds).toBeCloseTo(220.5, 1);
  });

  test("its timer line makes a scenario that check takes", async () => {
    const file = await log("one.csv", `board,time\n${rows("quay", 12, 73.4, 12)}`);
    const [board] = (JSON.parse((await lampdrift(["fit", file, "--json"])).stdout) as Found).boards;
    const plan = await log("measured.yaml", `lampdrift: 1\ntitle: T\nhouses: { inn: }\nboards:\n  quay:\n    ${board!.timer}\n    counter: { kind: ring, steps: 2 }\n    outputs: { 0: inn }\n`);
    expect((await lampdrift(["check", plan])).status).toBe(0);
    const text = (await lampdrift(["fit", file])).stdout;
    expect(text).toContain(`boards:\n  quay:\n    ${board!.timer}`);
  });

  test("against a scenario: as planned, another setting of the knob, outside what the parts can do", async () => {
    const planned = await log("planned.csv", `board,time\n${rows("quay", 5, 170, 12)}`);
    const plan = ["--scenario", demo("tidewater-lane")];
    const good = await lampdrift(["fit", planned, ...plan]);
    expect(good.status).toBe(0);
    expect(good.stdout).toContain("quay: 2 min 50 s is as planned");
    const off = await lampdrift(["fit", await log("off.csv", `board,time\n${rows("quay", 5, 190, 12)}`), ...plan]);
    expect(off.status).toBe(1);
    expect(unwrapped(off.stdout)).toMatch(/not what was planned .* the knob reaches it/);
    // 0.6931 · (100k + 2·830k) · 220 uF is 268 s nominal, and +20 % of trimmer and capacitor do not make 900 s of it
    const broken = await lampdrift(["fit", await log("broken.csv", `board,time\n${rows("quay", 5, 900, 12)}`), ...plan]);
    expect(broken.status).toBe(1);
    expect(broken.stdout).toContain("outside what these parts can do");
    expect(broken.stdout).toContain("check the capacitor");
  });

  test("says how much longer to watch", async () => {
    const noisy = [0, 169.2, 341, 509.9, 680.6, 850.1, 1019.3, 1191.2];
    const file = await log("noisy.csv", `board,time\n${noisy.map((t) => `quay,${t}`).join("\n")}\n`);
    expect(unwrapped((await lampdrift(["fit", file, "--precision", "0.2 s"])).stdout)).toMatch(/quay: watch on for about \d+ more steps, .* to know the step to ± 200 ms\./);
    expect((await lampdrift(["fit", file, "--precision", "1 min"])).stdout).toContain("quay is known to ± 1 min already.");
  });

  test("draws the residuals", async () => {
    const file = await log("drawn.csv", `board,time\n${rows("quay", 12, 170, 10)}${rows("hill", 5, 220, 8)}`);
    const picture = join(folder, "residuals.svg");
    expect((await lampdrift(["fit", file, "--picture", picture])).status).toBe(0);
    const svg = await readFile(picture, "utf8");
    expect(svg.match(/<circle/g)).toHaveLength(18);
    expect(svg).toContain("<title");
  });

  test("an odd interval is left out and told on standard error", async () => {
    const file = await log("odd.csv", `board,time\nquay,0\n${rows("quay", 136, 100, 8)}`);
    const { status, stderr, stdout } = await lampdrift(["fit", file]);
    expect(status).toBe(0);
    expect(stderr).toMatch(/odd\.csv: board quay: the interval before line 3 is no whole number of steps/);
    expect(stdout).toContain("100 s");
  });
});

describe("a log that will not do is refused", () => {
  test.each<[what: string, text: string, ...told: string[]]>([
    ["nonsense lines, all at once", "board,time\nquay,soon\n,5\nquay,1,2\nquay,1:00\n9,7\n", ":2: found \"soon\"", ":3: found \"\"", ":4: found \"quay,1,2\"", ":5: found \"1:00\"", ":6: found \"9\""],
    ["another header", "time,board\n1,quay\n", ":1: found \"time,board\"; expected the header board,time"],
    ["semicolons", "board;time\nquay;1\n", "save it with commas, not semicolons"],
    ["a time that falls", "board,time\nquay,100\nquay,200\nquay,150\nquay,300\nquay,250\n", ":4: board quay: 150 is before 200 in line 3; times of a board must rise", ":6: board quay: 250 is before 300"],
    ["two boards mixed under one name", "board,time\nquay,182\nquay,213\nquay,313\nquay,426\nquay,444\nquay,575\nquay,639\nquay,706\nquay,837\nquay,852\nquay,968\nquay,1065\nquay,1099\nquay,1230\nquay,1278\nquay,1361\nquay,1491\nquay,1492\nquay,1623\nquay,1704\nquay,1754\nquay,1885\nquay,1917\nquay,2016\nquay,2130\nquay,2147\nquay,2278\nquay,2343\n", "rows of two boards seem to be mixed, with steps of about 2 min 11 s and 3 min 33 s"],
    ["one log after another", "board,time\nquay,100\nquay,200\nquay,300\nquay,5\nquay,105\nquay,205\n", ":5: board quay: 5 is before 300 in line 4; a second log seems to begin here"],
    ["a night", "board,time\nquay,23:50:00\nquay,23:55:00\nquay,0:00:00\nquay,0:05:00\n", ":4: board quay: 0:00:00 is before 23:55:00 in line 3; after midnight count on"],
    ["too few rows", "board,time\nquay,100\nquay,200\nhill,3\n", ":3: of board quay only 2 changes were seen; expected at least 3", ":4: of board hill only 1 change was seen"],
    ["times without a common step", "board,time\nquay,0\nquay,100\nquay,237\nquay,301\nquay,480\n", "board quay: the times between its rows (1 min 40 s, 2 min 17 s"],
    ["no rows", "board,time\n", "there are no rows"],
    ["nothing", "", "the file is empty"],
    ["control characters", "board,time\n\u001b[31mquay,1\n", ":2: found"],
  ])("%s", async (_, text, ...told) => {
    const file = await log("bad.csv", text);
    const { status, stdout, stderr } = await lampdrift(["fit", file]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    for (const part of told) expect(stderr).toContain(part);
    expect(stderr).not.toMatch(/\n\s+at .*:\d+:\d+/);
    expect(stderr).not.toContain("\u001b");
  });

  test("an unknown board, with the nearest known one", async () => {
    const file = await log("strange.csv", `board,time\n${rows("quai", 0, 170, 5)}`);
    const { status, stderr } = await lampdrift(["fit", file, "--scenario", demo("tidewater-lane")]);
    expect(status).toBe(2);
    expect(stderr).toMatch(/has no board called "quai"; did you mean "quay"\? boards: quay, village, hill/);
  });

  test("files and arguments that are not there, are something else, or make no sense", async () => {
    expect((await lampdrift(["fit", join(folder, "nowhere.csv")])).stderr).toContain("there is no such file");
    expect((await lampdrift(["fit", folder])).stderr).toContain("this is a directory; expected a stopwatch log");
    const file = await log("fine.csv", `board,time\n${rows("quay", 0, 170, 5)}`);
    expect(await lampdrift(["fit", file, "--precision", "much"])).toMatchObject({ status: 2, stderr: expect.stringContaining("--precision") as string });
    const before = await listing(folder);
    expect(await lampdrift(["fit", file, "--picture", join(folder, "a.png")])).toMatchObject({ status: 2, stderr: expect.stringContaining(".svg") as string });
    expect(await listing(folder)).toEqual(before);
  });
});
