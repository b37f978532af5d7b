/** What commands print, as a person reads it: no line wider than the terminal, nothing said twice. */
import { join } from "node:path";
import stringWidth from "string-width";
import { cp, readdir, readFile, writeFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { LISTED, type CommandName } from "../../reports/commands/listed.js";
import { readScenario } from "../../sim/scenario/file.js";
import { demo as fileOf, inTwoHours, project, scratch } from "./command.js";
import { lampdrift, unwrapped } from "./inprocess.js";
import { thorough } from "../thorough.js";

const demo = (name: string): string => `scenarios/${name}.yaml`;

/** Scenarios that come with the program. */
const shipped = (await readdir(join(project, "scenarios"))).filter((file) => file.endsWith(".yaml")).sort();

/** How each command is asked for something that people read, with little to compute; null where what it prints is for a program. */
const ASKED: Readonly<Record<CommandName, ((file: string, board: string) => string[]) | null>> = {
  new: (file) => ["new", `new-${file}`],
  check: (file) => ["check", file],
  run: (file) => ["run", file],
  report: (file) => ["report", file, "-o", `report-${file}`, "--builds", "0", "--summary"],
  spread: (file) => ["spread", file, "--builds", "3", "--workers", "1"],
  hunt: (file) => ["hunt", file, "--tries", "3"],
  parts: () => ["parts", "--range", "30 s..6 min"],
  tune: (file) => ["tune", file, "--builds", "1"],
  compare: (file) => ["compare", file, "workshop.yaml", "--builds", "2"],
  fit: (file, board) => ["fit", `${board}.csv`, "--scenario", file, "--precision", "1 s"],
  bill: (file) => ["bill", file, "--spares", "10%"],
  cards: (file) => ["cards", file, "-o", `cards-${file}`],
  fault: (file, board) => ["fault", file, "--frozen", board, "--watched", "40 min"],
  arrange: (file) => ["arrange", file, "--tries", "20"],
  export: (file) => ["export", file, "--as", "vcd", "-o", `${file}.vcd`],
  completion: null,
};

/** These compute or draw a good deal; what they print of one display and of another differs in little but the names. */
const LONG: Readonly<Partial<Record<string, string>>> = {
  report: "starter.yaml", cards: "starter.yaml", parts: "starter.yaml", tune: "tidewater-lane.yaml", arrange: "tidewater-lane.yaml", compare: "starter.yaml",
};

const tooWide = (text: string, width: number): string[] => text.split("\n").filter((line) => stringWidth(line) > width);

const brief = await scratch();
for (const file of shipped) await writeFile(join(brief, file), inTwoHours(await readFile(join(project, "scenarios", file), "utf8")));
await cp(join(project, "scenarios/salt-stairs.svg"), join(brief, "salt-stairs.svg"));

describe("no line is wider than 80 columns in a pipe", () => {
  // Tidewater Lane has most to say, and the starter is what everybody begins with
  it.each(shipped.filter((file) => thorough || /^(tidewater-lane|starter)\./.test(file)))("%s, every command", async (file) => {
    const board = (await readScenario(join(brief, file))).boards[0]!.id;
    await writeFile(join(brief, `${board}.csv`), `board,time\n${[5, 175.2, 345.1, 514.8, 854.9].map((time) => `${board},${time}\n`).join("")}`);
    for (const [command, line] of Object.entries(ASKED)) {
      if (line === null || ((LONG[command] ?? file) !== file && !thorough)) continue;
      const { status, stdout, printed } = await lampdrift(line(file, board), { cwd: brief });
      expect([0, 1], `${command}: ${printed}`).toContain(status);
      expect(stdout + printed, command).not.toBe("");
      expect([...tooWide(stdout, 80), ...tooWide(printed, 80)], command).toEqual([]);
    }
  });

  it("what is wrong with a file, what is odd in it, and how a command was misused", async () => {
    const cwd = await scratch();
    const text = await readFile(fileOf("twin-boards"), "utf8");
    await writeFile(join(cwd, "odd.yaml"), text.replace("houses:", "houses:\n  chapel: { name: Chapel }"));
    await writeFile(join(cwd, "bad.yaml"), text.replaceAll("counter:", "countr:").replaceAll("step:", "stp:"));
    for (const [line, least] of [[["check", "odd.yaml"], 1], [["check", "bad.yaml"], 4], [["spread", "odd.yaml", "--builds", "many"], 1], [["chek"], 1], [[], 20]] as const) {
      const { printed } = await lampdrift(line, { cwd });
      expect(printed.split("\n").length, printed).toBeGreaterThan(least);
      expect(tooWide(printed, 80)).toEqual([]);
    }
  });

  it("parts, fit and the drill", async () => {
    const log = join(await scratch(), "log.csv");
    await writeFile(log, "board,time\nquay,0\nquay,170.3\nquay,340.1\nquay,509.8\nvillage,10\nvillage,140.2\nvillage,270.1\nvillage,400.3\n");
    const around = { input: "list\nwatch inn 20 min\nboard quay 30 min\nwatch nobody 3 min\ngive up\n" };
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

describe("what to do next", () => {
  const next = async (...args: string[]): Promise<string> =>
    /Next: (.*)$/.exec(unwrapped((await lampdrift(args, { columns: 100, cwd: brief })).stdout))?.[1] ?? "";

  it("is said on a terminal, as it fits what was found", async () => {
    const [lane, twins] = ["tidewater-lane.yaml", "twin-boards.yaml"];
    expect(await next("check", lane)).toContain(`lampdrift run ${lane}`);
    expect(await next("check", twins)).toContain(`lampdrift run ${twins} says what would help`);
    expect(await next("run", twins)).toContain(`lampdrift tune ${twins}`);
    expect(await next("run", lane)).toContain(`lampdrift report ${lane}`);
    expect(await next("spread", twins, "--builds", "3", "--workers", "1")).toContain(`lampdrift tune ${twins}`);
    expect(await next("hunt", twins, "--tries", "3")).toContain(`lampdrift run ${twins} --build build.json`);
    expect(await next("bill", twins)).toContain(`lampdrift cards ${twins}`);
    expect(await next("parts", "--range", "30 s..6 min")).toContain("lampdrift check");
    expect(await next("tune", twins, "--builds", "1")).toContain("--write NEW.yaml");
    expect(await next("compare", twins, twins, "--builds", "2")).toMatch(/B has as many parts as A, .*cannot tell them apart\. With -o/);
  });

  it("after fit is which way and how far to turn a knob", async () => {
    const log = join(await scratch(), "slow.csv");
    await writeFile(log, `board,time\n${[0, 1, 2, 3, 4, 5].map((n) => `quay,${5 + 190 * n}`).join("\n")}\n`);
    expect(await next("fit", log, "--scenario", "tidewater-lane.yaml")).toMatch(/turn the knob of quay by about \d[\d.]* % of its travel towards shorter steps, to 2 min 50 s/);
  });

  it("is left out with --json, and in a pipe", async () => {
    for (const [line, around] of [[["run", demo("twin-boards"), "--json"], { columns: 100 }], [["run", demo("twin-boards")], {}]] as const) {
      expect((await lampdrift(line, around)).stdout).not.toContain("Next:");
    }
  });
});

describe("words", () => {
  it("help and version are asked for as people ask for them", async () => {
    expect((await lampdrift(["help"])).stdout).toBe((await lampdrift(["--help"])).stdout);
    expect(await lampdrift(["help", "check"])).toEqual(await lampdrift(["check", "--help"]));
    expect((await lampdrift(["-v"])).stdout).toMatch(/^\d+\.\d+\.\d+\n$/);
  });

  it("whoever types a command wrongly is told where its options and an example are", async () => {
    const told = async (...words: string[]): Promise<string> => unwrapped((await lampdrift(words)).stderr);
    expect(await told("export", demo("twin-boards"))).toBe('lampdrift: the option --as <FORMAT> is missing "lampdrift export --help" shows the options and an example.');
    expect(await told("chek")).toContain('(Did you mean check?) "lampdrift --help" shows the options and an example.');
    expect((await lampdrift(["--help"])).stdout).toContain('Begin with "lampdrift new my.yaml"');
  });

  it("what is too short to be seen is called that, and an interval has the digits that mean something", async () => {
    const { stdout } = await lampdrift(["spread", demo("tidewater-lane"), "--builds", "2", "--workers", "1"], { cwd: project });
    expect(stdout).not.toMatch(/\dµs|\d µs/);
    expect(unwrapped(stdout)).toContain("Low: of 20 builds one comes out below this; high: one above this; middle: as many above as below.");
    expect(stdout).toMatch(/^board +nominal +least +low +middle +high +most$/m);
  });

  it("a rating with a least value says so, the others do not", async () => {
    const { stdout } = await lampdrift(["check", demo("tidewater-lane")], { columns: 160 });
    expect(stdout).toMatch(/timer RA, least value .* at least 1 kΩ/);
    expect(stdout).toMatch(/supply current, mean .* {2}2 A/);
  });

  it("the drill begins with the boards, their houses and what to type", async () => {
    const { stdout } = await lampdrift(["fault", demo("tidewater-lane"), "--drill", "tide"], { input: "" });
    const [intro] = stdout.split("The fault was");
    expect(intro!.split("\n").length).toBeLessThan(20);
    expect(unwrapped(intro!)).toMatch(/quay: bakery, chandler, inn.*watch HOUSE TIME.*guess NUMBER/);
  });

  it("fit and compare call an interval what it is", async () => {
    const log = join(await scratch(), "log.csv");
    await writeFile(log, "board,time\nquay,0\nquay,170.3\nquay,340.1\nquay,510.2\nquay,680.4\n");
    const fit = unwrapped((await lampdrift(["fit", log])).stdout);
    expect(fit).toContain("95 of 100 give a range that holds the board's true step");
    const twins = demo("twin-boards");
    const compare = unwrapped((await lampdrift(["compare", twins, twins, "--builds", "4"])).stdout);
    expect(compare).toContain("holds the true difference in 95 cases of 100");
    expect(fit + compare).not.toContain("95 % interval");
  });

  it("returns that never meet the same scene are told in one breath, and nobody needs a statistician", async () => {
    const told = unwrapped((await lampdrift(["run", demo("tidewater-lane")])).stdout);
    expect(told).toContain("after 10 min, 30 min, 1 h or 24 h never meets the same scene");
    expect(told).toMatch(/sees the same scene once in 1560 times/);
    const spread = unwrapped((await lampdrift(["spread", demo("tidewater-lane"), "--builds", "2", "--workers", "1"])).stdout);
    expect(spread).toContain("quay: reading the stopwatch 100 %");
    expect(spread).toContain("right 19 times in 20");
    for (const term of ["order 1", "order 2", "root sum square", "equal shares", "95 % interval", ".reading"]) {
      expect(told + spread).not.toContain(term);
    }
  });
});

describe("the first opening, drawn by run", () => {
  const drawing = async (env: Record<string, string>, columns = 80): Promise<string> =>
    /The first opening\n([^]*?)\n\nNext:/.exec((await lampdrift(["run", demo("twin-boards")], { columns, env })).stdout)![1]!;

  it("is as wide as the terminal allows, with a row for each house from opening to closing", async () => {
    for (const columns of [50, 80, 120]) {
      const lines = (await drawing({ LANG: "en_GB.UTF-8", NO_COLOR: "1" }, columns)).split("\n");
      expect(Math.max(...lines.map((line) => stringWidth(line)))).toBeLessThanOrEqual(columns);
      expect(lines.filter((line) => /^(north|south)\d/.test(line))).toHaveLength(8);
      expect(lines.at(-2)).toMatch(/^ +10:00 +16:00$/);
    }
  });

  it("shows a house lit and dark when it is", async () => {
    // in 6 h and 64 columns a column is 5 min 37.5 s; north1 and south1, on boards alike, look the same
    const lines = (await drawing({ NO_COLOR: "1" })).split("\n");
    const row = (id: string): string => lines.find((line) => line.startsWith(`${id} `))!.slice(16);
    expect(row("north1")).toBe(row("south1"));
    const share = Array.from(row("north1").padEnd(64)).reduce((sum, mark) => sum + " .:+#".indexOf(mark) / 4, 0) / 64;
    expect(share).toBeGreaterThan(0.375 - 0.15);
    expect(share).toBeLessThan(0.375 + 0.15);
  });

  it("is plain ASCII where the terminal takes no UTF-8, and without colour where nobody wants it", async () => {
    expect(await drawing({ LANG: "C", NO_COLOR: "1" })).toMatch(/^[\n -~]*$/);
    expect(await drawing({ LANG: "C.UTF-8", NO_COLOR: "1" })).toMatch(/[░▒▓█]/);
    expect(await drawing({ LANG: "C.UTF-8", NO_COLOR: "1" })).not.toContain("\u001b");
    expect(await drawing({ LANG: "C.UTF-8" })).toContain("\u001b[33m");
    expect((await lampdrift(["run", demo("twin-boards")])).stdout).not.toContain("The first opening");
  });
});
