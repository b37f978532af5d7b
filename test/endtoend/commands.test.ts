import { mkdir, readFile, stat, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import type { Scenario } from "../../sim/model/scenario.js";
import { readScenario } from "../../sim/scenario/file.js";
import { demo, demos, listing, project, scratch, type Outcome } from "./command.js";
import { lampdrift, unwrapped } from "./inprocess.js";

const root = await scratch();

/** A directory of its own for a test. */
async function room(name: string): Promise<string> {
  const directory = join(root, name);
  await mkdir(directory);
  return directory;
}

function expectUsage({ status, stdout, stderr }: Outcome, ...says: (string | RegExp)[]): void {
  expect(status).toBe(2);
  expect(stdout).toBe("");
  expect(stderr, "a stack trace").not.toMatch(/^\s+at .+:\d+:\d+\)?$/m);
  for (const part of says) expect(stderr).toMatch(part);
}

const { stdout: help } = await lampdrift(["--help"]);
const commands = [...help.split("Commands:")[1]!.matchAll(/^ {2}([a-z]+)/gm)].map(([, name]) => name!);

describe("help", () => {
  test("lists the commands", () => {
    expect(commands).toEqual(expect.arrayContaining(["new", "check", "run", "report"]));
  });

  test.each(commands)("of %s says what it does, with an example that begins like the command", async (name) => {
    const { status, stdout, stderr } = await lampdrift([name, "--help"]);
    expect(status).toBe(0);
    expect(stderr).toBe("");
    expect(stdout).toMatch(new RegExp(`^Usage: lampdrift ${name} `));
    expect(stdout).toMatch(new RegExp(`^Examples?:\\n {2}lampdrift ${name}( |$)`, "m"));
  });

  test("goes to standard error when no command is given, which is bad usage", async () => {
    expectUsage(await lampdrift([]), /^Usage: lampdrift/);
  });

  test("--version prints the version of the package and nothing else", async () => {
    const { version } = JSON.parse(await readFile(join(project, "package.json"), "utf8")) as { version: string };
    expect(await lampdrift(["--version"])).toEqual({ status: 0, stdout: `${version}\n`, stderr: "" });
  });
});

describe("bad usage is told with what was meant, and ends with status 2", () => {
  test.each<[args: string[], ...says: (string | RegExp)[]]>([
    [["runn", "x.yaml"], "unknown command 'runn'", "Did you mean run?"],
    [["chek"], "unknown command 'chek'", "Did you mean check?"],
    [["sail"], "unknown command 'sail'"],
    [["run", "--jsn", "x.yaml"], "unknown option '--jsn'", "Did you mean --json?"],
    [["--verison"], "unknown option '--verison'", "Did you mean --version?"],
    [["run"], "missing required argument 'FILE'"],
    [["run", "a.yaml", "b.yaml"], "too many arguments"],
    [["report", "x.yaml", "--out"], "--out <DIR>.*argument missing"],
    [["report", "x.yaml", "--day", "0"], "--day.*whole number from 1"],
    [["report", "x.yaml", "--day", "1.5"], "--day.*whole number from 1"],
    [["report", "x.yaml", "--day", "monday"], "--day.*whole number from 1"],
    [["report", "x.yaml", "--day", "1e400"], "--day.*whole number from 1"],
    [["report", demo("twin-boards"), "--day", "11"], /^--day 11: .*10 openings; expected 1 to 10\n$/],
    [["run", ""], "no such file"],
  ])("lampdrift %j", async (args, ...says) => {
    expectUsage(await lampdrift(args, { cwd: root }), ...says.map((part) => (typeof part === "string" ? new RegExp(part.replace("?", "\\?")) : part)));
  });

  test("a hostile argument does not steer the terminal", async () => {
    for (const args of [["\u001b[2Jrun"], ["run", "--\u001b]0;gotcha\u0007"], ["run", "x.yaml", "\u009b31m"]]) {
      const outcome = await lampdrift(args, { cwd: root });
      expectUsage(outcome);
      expect(outcome.stderr).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/);
    }
  });
});

describe("new", () => {
  test("writes a starter that is in order, and names it", async () => {
    const cwd = await room("new");
    const made = await lampdrift(["new"], { cwd });
    expect(made).toEqual({ status: 0, stdout: "", stderr: "wrote display.yaml; change it, then try: lampdrift check display.yaml\n" });
    expect(await listing(cwd)).toEqual(["display.yaml"]);
    expect(await readFile(join(cwd, "display.yaml"), "utf8")).toBe(await readFile(demo("starter"), "utf8"));
    const checked = await lampdrift(["check", "display.yaml"], { cwd });
    expect({ ...checked, stdout: "" }).toEqual({ status: 0, stdout: "", stderr: "" });
    expect(checked.stdout).toContain("My display");
  });

  test("makes the directory it is told to write into", async () => {
    const cwd = await room("new-deep");
    expect((await lampdrift(["new", "harbour/east/quay.yaml"], { cwd })).status).toBe(0);
    expect(await listing(cwd)).toEqual(["harbour", "harbour/east", "harbour/east/quay.yaml"]);
  });

  test("never overwrites: not a file, not a directory, not a link to nowhere", async () => {
    const cwd = await room("new-again");
    await writeFile(join(cwd, "mine.yaml"), "mine");
    await mkdir(join(cwd, "folder"));
    await symlink("nowhere", join(cwd, "link.yaml"));
    for (const name of ["mine.yaml", "folder", "link.yaml"]) {
      expectUsage(await lampdrift(["new", name], { cwd }), new RegExp(`^${name} is there already and stays as it is; give another name\n$`));
    }
    expect(await readFile(join(cwd, "mine.yaml"), "utf8")).toBe("mine");
    expect(await listing(cwd)).toEqual(["folder", "link.yaml", "mine.yaml"]);
  });

  test("says why where it cannot write", async () => {
    const cwd = await room("new-nowhere");
    await writeFile(join(cwd, "file"), "");
    expectUsage(await lampdrift(["new", "file/x.yaml"], { cwd }), /^cannot write file\/x\.yaml: a file stands where a directory is needed\n$/);
    expect(await listing(cwd)).toEqual(["file"]);
  });
});

/** Keys of the result of `run`, in order of the list of figures; every value is checked by its kind. */
type Kind = "count" | "share" | "seconds" | "rate" | "text" | "number";
const SCENES: Record<string, Kind> = {
  distinct: "count",
  combinations: "count",
  changes: "count",
  changesPerHour: "rate",
  sameAtRandom: "share",
  effective: "rate",
  even: "rate",
  shortestSeconds: "seconds",
  medianSeconds: "seconds",
  longestSeconds: "seconds",
};
const BOARD: Record<string, Kind> = {
  id: "text",
  steps: "count",
  stepSeconds: "seconds",
  firstStepSeconds: "seconds",
  cycleSeconds: "seconds",
  pulses: "count",
};
const HOUSE: Record<string, Kind> = { id: "text", litShare: "share", lightings: "count", longestDarkSeconds: "seconds", longestLitSeconds: "seconds" };
const ZONE: Record<string, Kind> = { zone: "text", litShare: "share" };

function expectKinds(found: Record<string, unknown>, kinds: Record<string, Kind>): void {
  expect(Object.keys(found)).toEqual(expect.arrayContaining(Object.keys(kinds)));
  for (const [key, kind] of Object.entries(kinds)) {
    const value = found[key];
    const what = `${key}: ${JSON.stringify(value)}`;
    if (kind === "text") {
      expect(value, what).toMatch(/./);
      continue;
    }
    expect(Number.isFinite(value), what).toBe(true);
    expect(value, what).toBeGreaterThanOrEqual(0);
    if (kind === "share") expect(value, what).toBeLessThanOrEqual(1);
    if (kind === "count") expect(Number.isInteger(value), what).toBe(true);
  }
}

interface RunResult extends Record<string, unknown> {
  readonly lampdrift: unknown;
  readonly scenario: unknown;
  readonly observed: { readonly seconds: number; readonly days: number };
  readonly boards: readonly (Record<string, unknown> & { readonly id: string })[];
  readonly scenes: Record<string, number>;
  readonly houses: readonly { readonly id: string; readonly litShare: number }[];
  readonly zones: readonly { readonly zone: string; readonly litShare: number }[];
  readonly lit: { readonly min: number; readonly max: number; readonly mean: number; readonly shares: readonly number[] };
}

/**
 * How long the first step lasts, from the others' length. From an empty capacitor the high time begins at nought and not at a third of the
 * supply (thresholds: TI SLFS022, "A-stable Operation"), and where the timer is divided, which is counted at falling edges, a low time is
 * missing. What leaks draws the voltage that the capacitor charges to down by its current times R1. The trimmer follows from the step.
 */
function firstStep(scenario: Scenario, id: string, steps: ReadonlyMap<string, number>): number {
  const { supply, boards } = scenario;
  const { timer } = boards.find((board) => board.id === id)!;
  const step = steps.get(id)!;
  // the first round of the board that clocks it has a first step, too
  const source = timer.kind === "carry" ? boards[timer.from]!.id : null;
  if (source !== null) return step + firstStep(scenario, source, steps) - steps.get(source)!;
  if (timer.kind !== "astable") return step;
  const { ra, rb, c, trimmer, divide, discharge, leakage } = timer;
  // as shares of the supply
  const leak = leakage.typical / supply.volts;
  // a diode that empties the capacitor leaves its forward voltage on it
  const left = discharge === "diode" ? 0.6 / supply.volts : 0;
  const times = (track: number): { first: number; high: number; low: number } => {
    const r1 = ra.value + rb.value + track;
    const r2 = rb.value + (trimmer?.in === "ra" ? 0 : track);
    const top = 1 - leak * r1;
    return {
      first: r1 * c.value * Math.log((top - left) / (top - 2 / 3)),
      high: r1 * c.value * Math.log((top - 1 / 3) / (top - 2 / 3)),
      low: r2 * c.value * Math.log((2 / 3 + leak * r2) / (1 / 3 + leak * r2)),
    };
  };
  let [least, most] = [0, trimmer?.part.value ?? 0];
  for (let i = 0; i < 60; i++) {
    const { high, low } = times((least + most) / 2);
    if (divide * (high + low) < step) least = (least + most) / 2;
    else most = (least + most) / 2;
  }
  const { first, high, low } = times(least);
  return first + (divide > 1 ? (divide - 1) * (high + low) : low);
}

describe("run", () => {
  // what the files say: openings × hours, houses, boards and zones counted in them by hand
  const facts = {
    "tidewater-lane": { title: "Tidewater Lane", seed: "tidewater", days: 30, hours: 7, houses: 24, boards: ["quay", "village", "hill"], zones: ["quay", "village", "hill"] },
    "twin-boards": { title: "Twin Boards", seed: "lampdrift", days: 10, hours: 6, houses: 8, boards: ["north", "south"], zones: ["north", "south"] },
    "workshop": {
      title: "Workshop",
      seed: "workshop",
      days: 5,
      hours: 3,
      houses: 18,
      boards: ["ring", "johnson", "binary", "shift", "table", "shuffle", "tower"],
      zones: ["ring", "johnson", "binary", "shift", "table", "shuffle"],
    },
  };

  test.each(demos)("--json of %s has every figure, in its range, and sums that fit", async (name) => {
    const file = `scenarios/${name}.yaml`;
    const { status, stdout, stderr } = await lampdrift(["run", file, "--json"], { cwd: project });
    expect({ status, stderr }).toEqual({ status: name === "twin-boards" ? 1 : 0, stderr: "" });
    const found = JSON.parse(stdout) as RunResult;
    const scenario = await readScenario(join(project, file));
    const { title, seed, days, hours, houses, boards, zones } = facts[name];
    const { version } = JSON.parse(await readFile(join(project, "package.json"), "utf8")) as { version: string };
    expect(found.lampdrift).toEqual({ version, format: 1 });
    expect(found.scenario).toEqual({ title, file, seed });
    expect(found.observed).toEqual({ seconds: days * hours * 3600, days });

    expectKinds(found.scenes, SCENES);
    const { distinct, combinations, changes, changesPerHour, sameAtRandom, effective, even, shortestSeconds, medianSeconds, longestSeconds } = found.scenes;
    expect(distinct).toBeGreaterThan(1);
    expect(distinct).toBeLessThanOrEqual(combinations!);
    expect(changesPerHour).toBeCloseTo(changes! / (days * hours), 9);
    expect(effective! * sameAtRandom!).toBeCloseTo(1, 12);
    // Hill numbers fall with their order, and none is above the number of scenes
    expect(effective!).toBeLessThanOrEqual(even!);
    expect(even!).toBeLessThanOrEqual(distinct!);
    expect(shortestSeconds!).toBeLessThanOrEqual(medianSeconds!);
    expect(medianSeconds!).toBeLessThanOrEqual(longestSeconds!);

    expect(found.boards.map(({ id }) => id)).toEqual(boards);
    const steps = new Map(found.boards.map(({ id, stepSeconds }) => [id, stepSeconds as number]));
    for (const board of found.boards) {
      expectKinds(board, BOARD);
      // the room's temperature and the chip's own current, which the formula leaves out, are within two thousandths here
      const first = firstStep(scenario, board.id, steps);
      expect(Math.abs((board["firstStepSeconds"] as number) / first - 1), board.id).toBeLessThan(0.002);
      expect(board["cycleSeconds"]).toBeGreaterThan(board["stepSeconds"] as number);
    }
    expect(found.houses.length).toBe(houses);
    for (const house of found.houses) expectKinds({ ...house }, HOUSE);
    expect(found.zones.map(({ zone }) => zone)).toEqual(zones);
    for (const zone of found.zones) expectKinds({ ...zone }, ZONE);

    const { lit } = found;
    expect(lit.shares.length).toBe(houses + 1);
    expect(lit.shares.every((share) => share >= 0 && share <= 1)).toBe(true);
    expect(Math.abs(lit.shares.reduce((sum, share) => sum + share, 0) - 1)).toBeLessThan(1e-12);
    expect(lit.mean).toBeCloseTo(lit.shares.reduce((sum, share, n) => sum + n * share, 0), 12);
    // houses lit on average, counted by house and by moment
    expect(lit.mean).toBeCloseTo(found.houses.reduce((sum, { litShare }) => sum + litShare, 0), 9);
    expect(lit.min).toBe(lit.shares.findIndex((share) => share > 0));
    expect(lit.max).toBe(lit.shares.findLastIndex((share) => share > 0));
  });

  test.each(demos)("of %s prints tables without a number that is none", async (name) => {
    const { status, stdout, stderr } = await lampdrift(["run", demo(name)]);
    expect({ status, stderr }).toEqual({ status: name === "twin-boards" ? 1 : 0, stderr: "" });
    expect(stdout).toContain(name === "workshop" ? "No promises are made." : "\nPromises\n");
    expect(stdout).toContain(facts[name].title);
    for (const id of facts[name].boards) expect(stdout).toMatch(new RegExp(`^${id} `, "m"));
    expect(stdout).not.toMatch(/NaN|undefined|null|Infinity|\[object/);
    expect(stdout).not.toContain("\u001b");
  });
});

describe("check", () => {
  test("ends with status 1 where a promise is broken, and says which", async () => {
    const { status, stdout, stderr } = await lampdrift(["check", demo("twin-boards"), "--json"]);
    expect({ status, stderr }).toEqual({ status: 1, stderr: "" });
    const { promises } = JSON.parse(stdout) as { promises: Record<string, unknown>[] };
    // equal boards of 8 steps of 100 s: after 800 s nearly everybody meets the same scene
    expect(promises.length).toBe(1);
    expect(promises[0]).toMatchObject({ promise: "repeatOnReturn", limit: 0.3, kept: false });
    expect(promises[0]!["value"]).toBeGreaterThan(0.95);
  });

  test("counts openings, and names the house that its figure belongs to", async () => {
    // each day a is dark for 40 min from the start, then b for 60 min, c for all of it but ten minutes
    const file = join(root, "dark.yaml");
    await writeFile(
      file,
      `lampdrift: 1
title: Dark
opening: { days: [tue, thu], from: "10:00", until: "12:00", run: 3 }
houses: { a: , b: , c: }
boards:
  one: { timer: { kind: quartz, step: 10 min }, counter: { kind: table, steps: [[1, 2], [1], [1], [1], [0], [0], [0], [0], [0], [0], [0, 1]] }, outputs: { 0: a, 1: b, 2: c } }
promises: [ darkSpell: { atMost: 30 min }, litHouses: { from: 2 } ]
`,
    );
    const { status, stdout: printed } = await lampdrift(["check", file]);
    const stdout = unwrapped(printed);
    expect(status).toBe(1);
    // c, from 10:10 to the next time round at 11:50
    expect(stdout).toContain("In opening 1 (Tue) at 10:10: house c is dark for 1 h 40 min.");
    expect(stdout).toContain("In opening 1 (Tue) at 10:10: lit: b.");
    expect(stdout).not.toMatch(/\bday \d/);
  });

  test("ends with status 0 where all is kept, and rates every part", async () => {
    const { status, stdout } = await lampdrift(["check", demo("workshop"), "--json"]);
    const { ratings } = JSON.parse(stdout) as { ratings: Record<string, unknown>[] };
    expect(status).toBe(0);
    expect(ratings.length).toBeGreaterThan(10);
    for (const rating of ratings) {
      for (const key of ["what", "where", "value", "limit", "unit", "share", "verdict", "source"]) expect(rating).toHaveProperty(key);
      expect(["within", "close"]).toContain(rating["verdict"]);
    }
  });
});

const SMALL = `
lampdrift: 1
title: Small
opening: { from: "10:00", until: "11:00", run: 2 }
houses: { inn: { zone: quay }, mill: { zone: hill } }
boards:
  quay: { timer: { kind: quartz, step: 60 s }, counter: { kind: ring, steps: 3 }, outputs: { 0: inn, 1: mill } }
`;

describe("report", () => {
  const small = join(root, "small.yaml");
  beforeAll(() => writeFile(small, SMALL));
  const report = (out: string, ...options: string[]): Promise<Outcome> => lampdrift(["report", small, "--builds", "0", "-o", out, ...options]);

  test("writes the same bytes twice, and keeps other files as they are", async () => {
    const [one, two] = [join(root, "one"), join(root, "two")];
    expect(await report(one)).toMatchObject({ status: 0, stdout: "" });
    await mkdir(two);
    await writeFile(join(two, "notes.txt"), "mine");
    expect(await report(two)).toMatchObject({ status: 0 });
    const names = await listing(one);
    expect(names).toEqual(expect.arrayContaining(["index.html", "figures.json"]));
    expect(names.filter((name) => name.endsWith(".svg")).length).toBeGreaterThan(0);
    expect(names.filter((name) => name.endsWith(".csv")).length).toBeGreaterThan(0);
    expect(await listing(two)).toEqual([...names, "notes.txt"].sort());
    for (const name of names) {
      expect((await readFile(join(two, name))).equals(await readFile(join(one, name))), name).toBe(true);
      expect((await stat(join(one, name))).size, name).toBeGreaterThan(0);
    }
    // figures.json is what run --json prints
    expect(await readFile(join(one, "figures.json"), "utf8")).toBe((await lampdrift(["run", small, "--json"])).stdout);
  });

  test("goes to out/ and the name of the file by itself", async () => {
    const cwd = await room("default-out");
    const { status, stderr } = await lampdrift(["report", demo("twin-boards"), "--builds", "0"], { cwd });
    // its promise is broken, as check says
    expect(status).toBe(1);
    expect(stderr).toMatch(/^wrote out\/twin-boards\/index\.html and \d+ files beside it\n$/);
    expect((await stat(join(cwd, "out/twin-boards/index.html"))).isFile()).toBe(true);
  });

  test("writes nothing over a file, below a file, or for a day that is not there", async () => {
    const cwd = await room("not-there");
    const file = join(cwd, "file");
    await writeFile(file, "mine");
    expectUsage(await report(file), "this is a file; expected a directory to write into");
    expectUsage(await report(join(file, "below")), "cannot write into", "a file stands where a directory is needed");
    await symlink("nowhere", join(cwd, "link"));
    expectUsage(await report(join(cwd, "link/below")), "cannot write into");
    expectUsage(await report(join(cwd, "day"), "--day", "3"), "expected 1 to 2");
    expect(await listing(cwd)).toEqual(["file", "link"]);
    expect(await readFile(file, "utf8")).toBe("mine");
  });

  test("leaves a directory alone that stands where its page should be", async () => {
    const cwd = await room("page-is-a-directory");
    await mkdir(join(cwd, "index.html"));
    expectUsage(await report(cwd), "cannot write into", "a directory stands where a file is needed");
    expect((await stat(join(cwd, "index.html"))).isDirectory()).toBe(true);
    expect((await listing(cwd)).filter((name) => /\.\d{5,}/.test(name)), "half a file").toEqual([]);
  });

  // permissions do not bind the superuser, and /proc is there only on some systems
  test.skipIf(process.getuid?.() === 0)("says so where it has no permission", async () => {
    const cwd = await room("locked");
    await mkdir(join(cwd, "locked"), { mode: 0o555 });
    expectUsage(await report(join(cwd, "locked")), "cannot write into", "no permission");
    expect(await listing(cwd)).toEqual(["locked"]);
  });

  test.skipIf(process.platform !== "linux").concurrent("says so where nobody can write", async () => {
    expectUsage(await report("/proc/nothing"), /^cannot write into \/proc\/nothing: .+\n$/);
  });
});
