import { EventEmitter } from "node:events";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { demo, scratch } from "./command.js";
import { lampdrift, unwrapped } from "./inprocess.js";

const folder = await scratch();

const planted = join(folder, "planted.yaml");
await writeFile(
  planted,
  `lampdrift: 1
title: Planted
opening: { from: "10:00", until: "17:00", run: 2 }
houses: { a: , b: }
boards:
  quay:
    timer: { kind: astable, ra: 100k ±1 %, rb: 1M ±1 %, c: { value: 150 uF ±20 %, leakage: 0 } }
    counter: { kind: ring, steps: 2 }
    outputs: { 0: a, 1: b }
promises:
  - step: { to: 4 min }
  - darkSpell: { atMost: 20 min }
`,
);

describe("spread", () => {
  test("--json has the keys that others rely on, and nothing else is on standard output", async () => {
    const { status, stdout, stderr } = await lampdrift(["spread", planted, "--builds", "80", "--json"]);
    expect({ status, stderr }).toEqual({ status: 1, stderr: "" });
    const found = JSON.parse(stdout) as Record<string, unknown>;
    expect(found).toMatchObject({ builds: 80, stalled: 0, unreachable: 0 });
    const range = { p05: expect.any(Number) as number, p50: expect.any(Number) as number, p95: expect.any(Number) as number };
    expect(found["boards"]).toMatchObject([{ id: "quay", step: { ...range, min: expect.any(Number) as number, max: expect.any(Number) as number } }]);
    expect(found["figures"]).toMatchObject({ "scenes.effective": range });
    const [first] = found["promises"] as { kept: number; builds: number; share: number; low: number; high: number }[];
    expect(first).toMatchObject({ promise: "step", builds: 80 });
    expect(first!.share).toBe(first!.kept / 80);
    expect(first!.low).toBeLessThan(first!.share);
    expect(first!.high).toBeGreaterThan(first!.share);
  });

  test("the demo keeps its promises in at least 95 % of builds", async () => {
    const { status, stdout } = await lampdrift(["spread", demo("tidewater-lane"), "--builds", "200", "--json"]);
    const { allKept } = JSON.parse(stdout) as { allKept: { share: number; low: number } };
    expect(allKept.share).toBeGreaterThanOrEqual(0.95);
    expect(status).toBe(allKept.share === 1 ? 0 : 1);
  });

  test("as a table it tells the yield, and where the spread comes from", async () => {
    const { status, stdout } = await lampdrift(["spread", planted, "--builds", "50", "--workers", "1"]);
    expect(status).toBe(1);
    expect(stdout).toMatch(/every step after the first lasts at most 4 min +\d+ of 50/);
    expect(stdout).toMatch(/^quay: the capacitor 9\d/m);
  });

  test("Ctrl-C gives what is finished, marked as partial", async () => {
    const keys = new EventEmitter();
    // pressed as soon as the command listens
    let listening = -1;
    keys.once("newListener", () =>
      setTimeout(() => {
        keys.emit("SIGINT");
        listening = keys.listenerCount("SIGINT");
      }, 100),
    );
    const { status, stdout, stderr } = await lampdrift(["spread", demo("twin-boards"), "--builds", "100000", "--workers", "1", "--json"], { keys });
    // nobody takes the second one from the process, which it ends
    expect(listening).toBe(0);
    expect(stderr).toBe("\nending with what is finished; press Ctrl-C again to stop at once\n");
    expect([0, 1]).toContain(status);
    const found = JSON.parse(stdout) as { builds: number; partial: boolean };
    expect(found.partial).toBe(true);
    expect(found.builds).toBeGreaterThan(0);
    expect(found.builds).toBeLessThan(100_000);
  });

  test("a terminal sees how far it is, on standard error, and nothing takes Ctrl-C away from the process", async () => {
    const listening = process.listenerCount("SIGINT");
    let during = 0;
    const keys = new EventEmitter();
    keys.once("newListener", () => (during = process.listenerCount("SIGINT")));
    const { stdout, stderr } = await lampdrift(["spread", planted, "--builds", "20", "--workers", "1", "--json"], { columns: 80, keys });
    expect(stderr).toContain("of 20 builds");
    expect(JSON.parse(stdout)).toMatchObject({ builds: 20 });
    expect([during, process.listenerCount("SIGINT")]).toEqual([listening, listening]);
  });

  test.each(["0", "-3", "2.5", "many", ""])("--builds %s is bad usage", async (builds) => {
    const { status, stdout, stderr } = await lampdrift(["spread", planted, "--builds", builds]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain("whole number");
  });
});

describe("hunt", () => {
  test("says in one line what is enough to break a promise", async () => {
    const { status, stdout } = await lampdrift(["hunt", planted, "--tries", "300"]);
    expect(status).toBe(1);
    const [, broken, kept] = /(Promise broken: .*) (Promise kept: .*)$/.exec(unwrapped(stdout))!;
    // 240 s of a nominal 218.34 s: C at +9.92 %
    expect(broken).toMatch(/^Promise broken: every step after the first lasts at most 4 min\. Enough: quay\.c at \+9\.9\d* % \(165 µF\); all else nominal\. Found: /);
    expect(kept).toMatch(/^Promise kept: no house is dark for more than 20 min at a stretch\. No build that breaks it was found in 300\. .*if one build in \d+ broke a promise/);
  });

  test("tells what is kept together, and what that means once", async () => {
    const { stdout } = await lampdrift(["hunt", demo("tidewater-lane"), "--tries", "3"]);
    const told = unwrapped(stdout);
    expect(told).toMatch(/All promises are kept\. No build that breaks one of them was found in 3: - every step .* - 2 to 20 houses are lit at any moment - /);
    expect(told.split("So few tell little")).toHaveLength(2);
  });

  test("says the same whatever the number of threads", async () => {
    const args = ["hunt", planted, "--tries", "300", "--json", "--workers"];
    const [one, two] = [await lampdrift([...args, "1"]), await lampdrift([...args, "2"])];
    expect(two).toEqual(one);
  });

  test("Ctrl-C gives the best so far, and says so", async () => {
    const keys = new EventEmitter();
    keys.once("newListener", () => setTimeout(() => keys.emit("SIGINT"), 100));
    const { status, stdout } = await lampdrift(["hunt", planted, "--tries", "1000000", "--workers", "1"], { keys });
    expect(status).toBe(130);
    expect(unwrapped(stdout)).toMatch(/ Stopped early: this is the best so far\. .* No build that breaks it was found in \d+\. /);
  });

  test("says why the twins break theirs", async () => {
    const { status, stdout } = await lampdrift(["hunt", demo("twin-boards")]);
    expect(status).toBe(1);
    expect(unwrapped(stdout)).toMatch(/Promise broken: whoever comes back after 13 min 20 s .*All parts nominal is enough\. Found: 99\.\d %\./);
  });

  test("a build that it prints can be replayed, and shows the value that was told", async () => {
    const { stdout } = await lampdrift(["hunt", planted, "--tries", "300", "--json"]);
    const [quarry] = (JSON.parse(stdout) as { promises: { value: number; build: Record<string, number> }[] }).promises;
    expect(Object.keys(quarry!.build)).toEqual(["quay.c"]);
    const file = join(folder, "build.json");
    await writeFile(file, stdout);
    const replay = await lampdrift(["run", planted, "--build", file, "--json"]);
    expect(replay.status).toBe(1);
    const { boards, promises } = JSON.parse(replay.stdout) as { boards: { stepSeconds: number }[]; promises: { kept: boolean; value: number }[] };
    expect(promises[0]).toMatchObject({ kept: false, value: quarry!.value });
    const shown = await lampdrift(["run", planted, "--build", file]);
    expect(shown.status).toBe(1);
    expect(shown.stdout).toMatch(/\nPromises\n[^]*every step after the first lasts [^\n]* broken\n/);
    expect(shown.stdout).toMatch(/\nBroken: every step after the first/);
    expect(boards[0]!.stepSeconds).toBeCloseTo(quarry!.value, 5);
    expect(boards[0]!.stepSeconds).toBeGreaterThan(240);
  });

  test("a build that does not fit is refused, all of it at once", async () => {
    const file = join(folder, "odd.json");
    await writeFile(file, '{"quay.x": 0.5, "quay.c": 2}');
    const { status, stdout, stderr } = await lampdrift(["run", planted, "--build", file]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain('quay.x: no part with a tolerance has this name; did you mean "quay.c"?');
    expect(stderr).toContain("quay.c: found 2; expected a share of the tolerance from -1 to 1");
  });

  test("without promises there is nothing to hunt", async () => {
    expect(await lampdrift(["hunt", demo("workshop")])).toMatchObject({ status: 0, stdout: expect.stringContaining("No promises are made") as string });
  });
});

const calm = join(folder, "calm.yaml");
await writeFile(
  calm,
  `lampdrift: 1
title: Calm
opening: { from: "10:00", until: "11:00", run: 1 }
houses: { a: , b: }
boards:
  quay: { timer: { kind: measured, step: 100 s, reading: 2 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: a, 1: b } }
promises: [ step: { from: 98 s, to: 102 s }, litHouses: { from: 1, to: 1 } ]
`,
);

describe("a display that keeps its promises", () => {
  test("spread: status 0, all of them in every build", async () => {
    const { status, stdout, stderr } = await lampdrift(["spread", calm, "--builds", "40", "--workers", "2", "--json"]);
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const { promises, allKept } = JSON.parse(stdout) as Record<"promises", object[]> & { allKept: object };
    for (const counted of [...promises, allKept]) expect(counted).toMatchObject({ kept: 40, builds: 40, share: 1, high: 1 });
  });

  test("hunt: status 0, with the keys that others rely on", async () => {
    const { status, stdout, stderr } = await lampdrift(["hunt", calm, "--tries", "50", "--json"]);
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    expect(JSON.parse(stdout)).toMatchObject({
      promises: [
        { promise: "step", broken: false, tries: 50, build: null, value: null, limit: null },
        { promise: "litHouses", broken: false, tries: 50, build: null, value: null, limit: null },
      ],
    });
  });

  test("hunt leaves nothing to replay, and run says so", async () => {
    const file = join(folder, "nothing.json");
    await writeFile(file, (await lampdrift(["hunt", calm, "--tries", "5", "--json"])).stdout);
    const { status, stdout, stderr } = await lampdrift(["run", calm, "--build", file]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain("found no build that breaks a promise");
  });
});

describe("what a user may get wrong", () => {
  test.each([
    ["a number of tries that is none", ["hunt", calm, "--tries", "1e9"], "whole number"],
    ["no workers", ["spread", calm, "--workers", "0"], "whole number"],
    ["a scenario that is not there", ["hunt", join(folder, "absent.yaml")], "absent.yaml"],
    ["a build that is not there", ["run", calm, "--build", join(folder, "absent.json")], "absent.json"],
    ["a build that is not JSON", ["run", calm, "--build", calm], "this is not JSON"],
  ])("%s: status 2, a word on what is wrong, no stack trace", async (_what, args, told) => {
    const { status, stdout, stderr } = await lampdrift(args);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain(told);
    expect(stderr).not.toMatch(/\n\s+at |fault of its own/);
  });
});
