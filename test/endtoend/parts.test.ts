import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { scratch } from "./command.js";
import { lampdrift } from "./inprocess.js";

const folder = await scratch();

interface Answer {
  readonly choices: readonly { readonly nominal: Range; readonly corners: Range; readonly leakageBudget: number; readonly divide: number }[];
}
interface Range {
  readonly from: number;
  readonly to: number;
}

describe("parts", () => {
  test("40 s to 8 min: at least five choices that cover it for sure", async () => {
    const { status, stdout, stderr } = await lampdrift(["parts", "--range", "40 s..8 min", "--json"]);
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const { choices } = JSON.parse(stdout) as Answer;
    expect(choices.length).toBeGreaterThanOrEqual(5);
    for (const { nominal, corners, leakageBudget } of choices) {
      expect(corners.from).toBeLessThanOrEqual(40);
      expect(corners.to).toBeGreaterThanOrEqual(480);
      expect(nominal.from).toBeLessThanOrEqual(corners.from);
      expect(nominal.to).toBeGreaterThanOrEqual(corners.to);
      expect(leakageBudget).toBeGreaterThan(0);
    }
    expect(new Set(choices.map(({ divide }) => divide === 1))).toEqual(new Set([true, false]));
  });

  test("as a table it names parts as people buy them, and what was taken for granted", async () => {
    const { stdout } = await lampdrift(["parts", "--range", "30 s..6 min", "--wanted", "2 min..4 min"]);
    expect(stdout).toMatch(/\d kΩ +\d[\d.]* kΩ +\d+ [kM]Ω in r[ab] +\d[\d.]* [nµ]F/);
    expect(stdout).toContain("Taken for granted");
  });

  test("a unit on one side counts for both, and that is said; the stock may leave types out", async () => {
    const file = await stock("10k\n47k 5%\n100k\n220k 1 %\n470 uF\n10 uF film\ntrimmer 500k\n");
    const { status, stdout } = await lampdrift(["parts", "--range", "2..4 min", "--stock", file]);
    expect(status).toBe(0);
    expect(stdout).toContain('"2..4 min" has a unit on one side alone, taken for both: 2 min to 4 min.');
    expect(stdout).toMatch(/Taken for carbon, since the stock file gives no type: 10k, 47k 5%, 100k\./);
    const dashed = await lampdrift(["parts", "--range", "2-4 min", "--stock", file, "--json"]);
    const spoken = await lampdrift(["parts", "--range", "2 min to 4 min", "--stock", file, "--json"]);
    expect((JSON.parse(dashed.stdout) as Answer).choices).toEqual((JSON.parse(spoken.stdout) as Answer).choices);
    for (const { corners } of (JSON.parse(spoken.stdout) as Answer).choices) {
      expect(corners.from).toBeLessThanOrEqual(120);
      expect(corners.to).toBeGreaterThanOrEqual(240);
    }
  });

  test.each([
    [["--range", "6 min..30 s"], "range"],
    [["--range", "0..30 s"], "range"],
    [["--range", "soon"], "expected two durations"],
    [["--range", "1 s..24 h"], "no knob reaches"],
    [["--range", "30 s..6 min", "--series", "E7"], "E6"],
    [["--range", "30 s..6 min", "--chip", "tube"], "bipolar"],
    [["--range", "30 s..6 min", "--supply", "much"], "--supply"],
    [["--range", "30 s..6 min", "--wanted", "1 s..4 min"], "widen the range"],
    [["--range", "30 s..6 min", "--stock", "nowhere.txt"], "there is no such file"],
    [[], "--range"],
  ])("%j is refused in a line", async (args, told) => {
    const { status, stdout, stderr } = await lampdrift(["parts", ...args]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain(told);
    expect(stderr).not.toMatch(/\n\s+at .*:\d+:\d+/);
  });

  test("days that no capacitor reaches get the reason", async () => {
    const { status, stdout, stderr } = await lampdrift(["parts", "--range", "20 h..24 h", "--stock", await stock("100 nF film\n1k metal\n2k2 metal\ntrimmer 10k\n")]);
    expect(status).toBe(2);
    expect(stdout + stderr).toMatch(/No parts do this\. No set of the parts in stock reaches/);
  });

  test("nonsense in a stock file is told line by line", async () => {
    const file = await stock("100k 1 % metal\nsome wire\n470 uF electrolytic\n5 lamps\n");
    const { status, stderr } = await lampdrift(["parts", "--range", "30 s..6 min", "--stock", file]);
    expect(status).toBe(2);
    expect(stderr).toContain(`${file}:2: found "some wire"`);
    expect(stderr).toContain(`${file}:4: found "5 lamps"`);
  });
});

async function stock(text: string): Promise<string> {
  const file = join(folder, "stock.txt");
  await writeFile(file, text);
  return file;
}
