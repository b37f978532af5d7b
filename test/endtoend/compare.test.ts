import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, test, vi } from "vitest";
import { browser, noBrowser, textFaults } from "./browser.js";
import { briefly, demo, listing, scratch } from "./command.js";
import { lampdrift } from "./inprocess.js";

vi.setConfig({ testTimeout: 60_000 });

const folder = await scratch();
const chromium = browser();

interface Found {
  readonly alternatives: readonly {
    readonly file: string;
    readonly title: string;
    readonly run: unknown;
    readonly check: { readonly promises: unknown; readonly ratings: unknown };
    readonly bill: unknown;
  }[];
  readonly differences: readonly { readonly figure: string; readonly values: readonly (number | null)[]; readonly distinct: boolean }[];
}

async function variant(name: string, text: string): Promise<string> {
  const file = join(folder, name);
  await writeFile(file, text);
  return file;
}

const twin = await variant("twin-boards.yaml", briefly(await readFile(demo("twin-boards"), "utf8")));
const slower = await variant("slower.yaml", `base: twin-boards.yaml\ntitle: "South <slower>"\nboards: { south: { timer: { setTo: 117 s } } }\n`);

describe("compare", () => {
  test("gives for each alternative what run and check give, and the differences", async () => {
    const { status, stdout, stderr } = await lampdrift(["compare", twin, slower, "--builds", "20", "--json"]);
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const { alternatives, differences } = JSON.parse(stdout) as Found;
    expect(alternatives.map(({ file, title }) => ({ file, title }))).toEqual([
      { file: twin, title: "Twin Boards" },
      { file: slower, title: "South <slower>" },
    ]);
    for (const { file, run, check } of alternatives) {
      expect(run).toEqual(JSON.parse((await lampdrift(["run", file, "--json"])).stdout));
      const { promises, ratings } = JSON.parse((await lampdrift(["check", file, "--json"])).stdout) as Record<string, unknown>;
      expect(check).toEqual({ promises, ratings });
    }
    const effective = differences.find(({ figure }) => figure === "scenes.effective")!;
    expect(effective.distinct).toBe(true);
    expect(effective.values[1]!).toBeGreaterThan(effective.values[0]!);
  });

  test("marks in its table what the builds cannot tell apart", async () => {
    const { status, stdout } = await lampdrift(["compare", twin, twin, slower, "--builds", "10"], { columns: 160 });
    expect(status).toBe(0);
    const row = stdout.split("\n").find((line) => line.startsWith("as varied as so many equal scenes"))!;
    expect(row).toMatch(/^as varied as so many equal scenes +more +[\d.]+ +[\d.]+ ~ +[\d.]+ +none +[\d.]+ to [\d.]+$/);
    expect(stdout).toContain("broken; 0 of 10 builds");
  });

  test("the same files give the same bytes", async () => {
    const args = ["compare", twin, slower, "--builds", "3", "--json"];
    expect((await lampdrift(args)).stdout).toBe((await lampdrift(args)).stdout);
  });

  test.skipIf(noBrowser !== false)("writes a page with the curves over each other, whose text is legible and escaped", async () => {
    const out = join(folder, "page");
    const { status, stderr } = await lampdrift(["compare", twin, slower, "--builds", "4", "-o", out]);
    expect(status).toBe(0);
    expect(stderr).toContain(`wrote ${join(out, "index.html")}`);
    expect(await listing(out)).toEqual([".made.json", "index.html", "overlay.svg"]);
    const shown = await chromium.page(900);
    const requests: string[] = [];
    shown.on("request", (request) => requests.push(request.url()));
    await shown.goto(pathToFileURL(join(out, "index.html")).href);
    expect(requests).toHaveLength(1);
    expect(await shown.locator("h1").textContent()).toBe("Alternatives side by side");
    expect(await shown.locator("table").first().textContent()).toContain("South <slower>");
    expect(await shown.locator("svg path[stroke='#d55e00']").count()).toBe(2);
    expect(await textFaults(shown, 11)).toEqual([]);
    expect(await shown.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)).toBeLessThanOrEqual(0);
    await shown.close();
    expect(await readFile(join(out, "overlay.svg"), "utf8")).not.toContain("<slower>");
  });

  test("tells when seeds or visitors are put on common ground", async () => {
    const other = await variant("other.yaml", `base: twin-boards.yaml\nseed: another\nvisitors: { stay: 7 min }\n`);
    const { stderr, status } = await lampdrift(["compare", twin, other, "--builds", "2"]);
    expect(status).toBe(0);
    expect(stderr).toContain("the seeds differ");
    expect(stderr).toContain("the visitors differ");
  });
});

describe("compare refuses", () => {
  test.each<[what: string, args: string[], told: string]>([
    ["one file alone", [twin], "at least two"],
    ["no file", [], "missing required argument"],
    ["builds that are no number", [twin, slower, "--builds", "many"], "whole number"],
    ["one build, of which nothing can be told", [twin, slower, "--builds", "1"], "whole number"],
    ["builds that no memory holds", Array.from({ length: 3 }, () => twin).concat("--builds", "100000"), "give at most 66666"],
  ])("%s", async (_, args, told) => {
    const { status, stdout, stderr } = await lampdrift(["compare", ...args]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain(told);
    expect(stderr).not.toMatch(/\n\s+at .*:\d+:\d+/);
  });

  test("broken files, all of them at once", async () => {
    const broken = await variant("broken.yaml", `base: twin-boards.yaml\ncolour: red\n`);
    const { status, stderr } = await lampdrift(["compare", twin, broken, join(folder, "nowhere.yaml")]);
    expect(status).toBe(2);
    expect(stderr).toContain("broken.yaml:2:1: colour: unknown key");
    expect(stderr).toContain("nowhere.yaml: there is no such file");
  });
});
