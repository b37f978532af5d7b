import { lstat, mkdir, readdir, readFile, rename, symlink, writeFile } from "node:fs/promises";
import { createHash } from "node:crypto";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { writeFolder } from "../../reports/output/folder.js";
import { writeNew, writeOver } from "../../reports/output/files.js";
import { scratch } from "./command.js";

const root = await scratch();
let rooms = 0;
async function room(): Promise<string> {
  const directory = join(root, String(rooms++));
  await mkdir(directory);
  return directory;
}
const made = (mark: string, names: readonly string[]): Map<string, string> => new Map(names.map((name) => [name, `${name} of ${mark}`]));

describe("a folder is of one making", () => {
  test("what an earlier making had and this one has not goes; files of others stay", async () => {
    const folder = await room();
    await writeFile(join(folder, "notes.txt"), "mine");
    await writeFolder(folder, "report", made("first", ["index.html", "a.svg", "b.svg"]));
    await writeFolder(folder, "cards", made("cards", ["cards.html"]));
    await writeFolder(folder, "report", made("second", ["index.html", "a.svg", "figures.json"]));
    expect((await readdir(folder)).sort()).toEqual([".made.json", "a.svg", "cards.html", "figures.json", "index.html", "notes.txt"]);
    const manifest = JSON.parse(await readFile(join(folder, ".made.json"), "utf8")) as Record<string, Record<string, string>>;
    for (const name of ["index.html", "a.svg", "figures.json"]) {
      const content = await readFile(join(folder, name), "utf8");
      expect(content).toBe(`${name} of second`);
      expect(manifest["report"]![name]).toBe(createHash("sha256").update(content).digest("hex"));
    }
    expect(Object.keys(manifest)).toEqual(["report", "cards"]);
  });

  test("two at once: one wins whole", async () => {
    const folder = await room();
    const names = Array.from({ length: 12 }, (_, i) => `${i}.svg`);
    await Promise.all(["one", "two", "three"].map((mark) => writeFolder(folder, "report", made(mark, names))));
    const contents = await Promise.all(names.map(async (name) => (await readFile(join(folder, name), "utf8")).split(" of ")[1]));
    expect(new Set(contents).size).toBe(1);
    expect((await readdir(folder)).filter((name) => name.startsWith("."))).toEqual([".made.json"]);
  });

  test("what a killed one left behind is taken away", async () => {
    const folder = await room();
    await mkdir(join(folder, ".draft-0123456789ab"));
    await writeFile(join(folder, ".draft-0123456789ab", "index.html"), "half");
    // no process has this number
    await writeFile(join(folder, ".making"), "4194305");
    await writeFolder(folder, "report", made("whole", ["index.html"]));
    expect((await readdir(folder)).sort()).toEqual([".made.json", "index.html"]);
  });

  test("what a killed one had ready is put in its place, and what it replaces goes", async () => {
    const folder = await room();
    await writeFolder(folder, "report", made("old", ["index.html", "a.svg", "b.svg"]));
    const [ready, other] = [join(folder, ".ready"), await room()];
    await writeFolder(other, "report", made("new", ["index.html", "a.svg", "c.svg"]));
    // killed when one file of four was in its place
    await rename(other, ready);
    await rename(join(ready, "a.svg"), join(folder, "a.svg"));
    await writeFolder(folder, "cards", made("cards", ["cards.html"]));
    expect((await readdir(folder)).sort()).toEqual([".made.json", "a.svg", "c.svg", "cards.html", "index.html"]);
    for (const name of ["a.svg", "c.svg", "index.html"]) expect(await readFile(join(folder, name), "utf8")).toBe(`${name} of new`);
    expect(Object.keys(JSON.parse(await readFile(join(folder, ".made.json"), "utf8")) as object)).toEqual(["report", "cards"]);
  });

  test("nothing is fetched from elsewhere by a link that looks like what a killed one had ready", async () => {
    const [folder, elsewhere] = [await room(), await room()];
    await writeFolder(elsewhere, "report", made("theirs", ["index.html"]));
    await symlink(elsewhere, join(folder, ".ready"));
    await expect(writeFolder(folder, "report", made("ours", ["index.html"]))).rejects.toThrow(/a file stands where a directory is needed/);
    expect(await readFile(join(elsewhere, "index.html"), "utf8")).toBe("index.html of theirs");
  });

  test("a link in the place of a file is replaced, not followed", async () => {
    const folder = await room();
    const elsewhere = join(folder, "precious.txt");
    await writeFile(elsewhere, "precious");
    await symlink(elsewhere, join(folder, "index.html"));
    await writeFolder(folder, "report", made("new", ["index.html"]));
    expect(await readFile(elsewhere, "utf8")).toBe("precious");
    expect((await lstat(join(folder, "index.html"))).isSymbolicLink()).toBe(false);
  });

  test("a manifest that names files elsewhere takes nothing away there", async () => {
    const folder = await room();
    await writeFile(join(root, "outside.txt"), "stays");
    await writeFile(join(folder, ".made.json"), JSON.stringify({ report: { "../outside.txt": "", ".hidden": "" } }));
    await writeFile(join(folder, ".hidden"), "stays");
    await writeFolder(folder, "report", made("new", ["index.html"]));
    expect(await readFile(join(root, "outside.txt"), "utf8")).toBe("stays");
    expect(await readFile(join(folder, ".hidden"), "utf8")).toBe("stays");
  });

  test("a directory in the place of a file is told, and the earlier making stays", async () => {
    const folder = await room();
    await writeFolder(folder, "report", made("first", ["index.html", "a.svg"]));
    await mkdir(join(folder, "b.svg"));
    await expect(writeFolder(folder, "report", made("second", ["index.html", "a.svg", "b.svg"]))).rejects.toThrow(/a directory stands where a file is needed/);
    expect(await readFile(join(folder, "index.html"), "utf8")).toBe("index.html of first");
    expect((await readdir(folder)).filter((name) => name.startsWith(".draft"))).toEqual([]);
  });
});

describe("single files", () => {
  test("a new file never replaces one, and leaves no draft", async () => {
    const folder = await room();
    const path = join(folder, "a.yaml");
    await writeNew(path, "first");
    await expect(writeNew(path, "second")).rejects.toThrow(/is there already and stays as it is/);
    expect(await readFile(path, "utf8")).toBe("first");
    expect(await readdir(folder)).toEqual(["a.yaml"]);
  });

  test("drafts that killed ones left beside are taken away, those of others at work are not", async () => {
    const folder = await room();
    // no process has the first number
    const [left, atWork] = [".a.yaml.4194305-0123456789ab.part", `.b.yaml.${process.pid}-0123456789ab.part`];
    for (const name of [left, atWork, ".mine.part"]) await writeFile(join(folder, name), "half");
    await writeNew(join(folder, "c.yaml"), "whole");
    expect((await readdir(folder)).sort()).toEqual([".mine.part", atWork, "c.yaml"].sort());
  });

  test("a picture is written over an older one, whole", async () => {
    const folder = await room();
    const path = join(folder, "a.svg");
    await writeOver(path, "first");
    await writeOver(path, "second");
    expect(await readFile(path, "utf8")).toBe("second");
    expect(await readdir(folder)).toEqual(["a.svg"]);
  });
});
