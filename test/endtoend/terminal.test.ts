/** What commands print, as a person reads it: no line wider than the terminal, nothing said twice. */
import { join } from "node:path";
import stringWidth from "string-width";
import { writeFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { LISTED } from "../../reports/commands/listed.js";
import { demos, scratch } from "./command.js";
import { lampdrift } from "./inprocess.js";

const demo = (name: string): string => `scenarios/${name}.yaml`;

/** The command lines that print for people, each with little to compute. */
function linesOf(name: string): (readonly [command: string, ...string[]])[] {
  const file = demo(name);
  return [
    ["check", file],
    ["run", file],
    ["spread", file, "--builds", "3", "--workers", "1"],
    ["hunt", file, "--tries", "3"],
    ["tune", file, "--builds", "1"],
    ...(name === "twin-boards" ? [["compare", file, demo("workshop"), "--builds", "2"] as const] : []),
    ["bill", file, "--spares", "10%"],
    ["arrange", file, "--tries", "20"],
    ["fault", file, "--frozen", { "tidewater-lane": "quay", "twin-boards": "north", workshop: "ring" }[name]!],
  ];
}

const tooWide = (text: string, width: number): string[] => text.split("\n").filter((line) => stringWidth(line) > width);

describe("no line is wider than 80 columns in a pipe", () => {
  it.each(demos)("%s, every command", async (name) => {
    for (const line of linesOf(name)) {
      const { status, stdout, stderr } = await lampdrift(line);
      expect([0, 1], line.join(" ")).toContain(status);
      expect([...tooWide(stdout, 80), ...tooWide(stderr, 80)], line.join(" ")).toEqual([]);
    }
  });

  it("parts, fit and the drill", async () => {
    const log = join(await scratch(), "log.csv");
    await writeFile(log, "board,time\nquay,0\nquay,170.3\nquay,340.1\nquay,509.8\nvillage,10\nvillage,140.2\nvillage,270.1\nvillage,400.3\n");
    const around = { input: "list\nwatch inn 20\nboard quay 30\nwatch nobody 3\ngive up\n" };
    const asked = [
      ["parts", "--range", "30 s..6 min"],
      ["fit", log, "--scenario", demo("tidewater-lane"), "--precision", "1 s"],
      ["fault", demo("tidewater-lane"), "--drill", "tide"],
    ];
    for (const line of asked) {
      const { stdout } = await lampdrift(line, around);
      expect(stdout.length, line[0]).toBeGreaterThan(300);
      expect(tooWide(stdout, 80), line[0]).toEqual([]);
    }
  });

  it.each(["", ...Object.keys(LISTED)])("help of %s", async (command) => {
    const { stdout } = await lampdrift([command, "--help"].filter((word) => word !== ""));
    expect(stdout).toContain("Usage: lampdrift");
    expect(tooWide(stdout, 80)).toEqual([]);
  });
});

describe("on a terminal", () => {
  it.each([40, 60, 132])("of %d columns no line is wider", async (columns) => {
    for (const line of [["check", demo("tidewater-lane")], ["run", demo("workshop")], ["parts", "--range", "30 s..6 min"]]) {
      expect(tooWide((await lampdrift(line, { columns })).stdout, columns), line.join(" ")).toEqual([]);
    }
  });

  it("of many columns a table stands in one piece that is split where there are few", async () => {
    const line = ["spread", demo("twin-boards"), "--builds", "2", "--workers", "1"];
    const heads = async (columns: number): Promise<number> =>
      (await lampdrift(line, { columns })).stdout.split("\n").filter((text) => text.startsWith("board ")).length;
    expect(await heads(160)).toBe(1);
    expect(await heads(60)).toBeGreaterThan(1);
  });
});

describe("notes", () => {
  it("that are the same but for a number are said once, with the boards and their numbers", async () => {
    const { stdout } = await lampdrift(["check", demo("workshop")]);
    const text = stdout.replace(/\s+/g, " ");
    expect(text.split("outputs are those of a programmed part")).toHaveLength(2);
    expect(text).toContain("shift, table and shuffle: The outputs are those of a programmed part");
  });
});
