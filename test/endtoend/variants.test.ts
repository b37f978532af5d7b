import { mkdir, symlink, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { describe, expect, test } from "vitest";
import { readScenario } from "../../sim/scenario/file.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { ScenarioError } from "../../sim/scenario/problems.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { demo, scratch } from "./command.js";
import { lampdrift } from "./inprocess.js";

const folder = await scratch();

const BASE = `lampdrift: 1
title: Base
opening: { days: [sat, sun], from: "10:00", until: "17:00" }
houses:
  inn: { zone: quay }
  mill:
boards:
  quay:
    timer: { kind: quartz, step: 60 s, jitter: 1 % }
    counter: { kind: ring, steps: 4 }
    outputs: { 0: inn, 1: mill }
  hill:
    timer: { kind: quartz, step: 70 s }
    counter: { kind: table, steps: [[0], [1]], hold: [1, 2] }
    outputs: { 0: mill }
promises:
  - step: { from: 50 s }
  - anyHour: { atLeast: 2 }
`;

async function write(name: string, text: string): Promise<string> {
  const file = join(folder, name);
  await mkdir(dirname(file), { recursive: true });
  await writeFile(file, text);
  return file;
}

/** Everything but the name of the file, and the places of what is warned of. */
const content = (scenario: Scenario): Scenario => ({ ...scenario, file: "", warnings: [] });

async function refusal(file: string): Promise<ScenarioError> {
  const error: unknown = await readScenario(file).catch((thrown: unknown) => thrown);
  expect(error).toBeInstanceOf(ScenarioError);
  return error as ScenarioError;
}

await write("base.yaml", BASE);

describe("a variant", () => {
  test("that changes nothing is its base", async () => {
    const variant = await readScenario(await write("same.yaml", "base: base.yaml\n"));
    expect(content(variant)).toEqual(content(parseScenario(BASE, "base.yaml")));
    expect(variant.file).toBe(join(folder, "same.yaml"));
  });

  test("merges mappings deeply, puts lists and values in place of others, and takes away with null", async () => {
    const variant = await write(
      "much.yaml",
      `base: base.yaml
title: Variant
opening: { days: [mon] }
houses: { barn: , inn: { name: Inn } }
boards:
  quay: { timer: { step: 90 s, jitter: null }, outputs: { 1: [inn, barn] } }
  hill: null
promises:
  - anyHour: { atLeast: 3 }
`,
    );
    // the same, written out by hand
    const whole = `lampdrift: 1
title: Variant
opening: { days: [mon], from: "10:00", until: "17:00" }
houses:
  inn: { zone: quay, name: Inn }
  mill:
  barn:
boards:
  quay:
    timer: { kind: quartz, step: 90 s }
    counter: { kind: ring, steps: 4 }
    outputs: { 0: inn, 1: [inn, barn] }
promises:
  - anyHour: { atLeast: 3 }
`;
    expect(content(await readScenario(variant))).toEqual(content(parseScenario(whole, "whole.yaml")));
  });

  test("may stand on a variant, in other directories, through links", async () => {
    await write("deep/middle.yaml", "base: ../base.yaml\ntitle: Middle\nboards: { quay: { timer: { step: 80 s } } }\n");
    const top = await write("deep/er/top.yaml", "base: ../middle.yaml\nboards: { hill: { timer: { step: 90 s } } }\n");
    const { title, boards } = await readScenario(top, { bases: "anywhere" });
    expect(title).toBe("Middle");
    expect(boards.map(({ timer }) => (timer.kind === "quartz" ? timer.step : null))).toEqual([80, 90]);
  });

  test("is taken by the commands", async () => {
    const file = await write("tide.yaml", `base: ${demo("tidewater-lane")}\ntitle: Slow tide\nboards: { quay: { timer: { setTo: 3 min } } }\n`);
    const { status, stdout } = await lampdrift(["run", file, "--json", "--base-anywhere"]);
    expect(status).toBe(0);
    const found = JSON.parse(stdout) as { scenario: { title: string; file: string }; boards: { stepSeconds: number }[] };
    expect(found.scenario).toMatchObject({ title: "Slow tide", file });
    expect(found.boards[0]!.stepSeconds).toBeCloseTo(180, 3);
  });
});

describe("problems are told where they stand", () => {
  test("each in its file, the variant's first", async () => {
    await write("faulty.yaml", BASE.replace("step: 70 s", "step: 70 parsecs").replace("1: mill", "1: mil"));
    const file = await write("on-faulty.yaml", "base: faulty.yaml\nboards:\n  quay:\n    counter: { kind: rung }\n    colour: red\n");
    const { message, problems } = await refusal(file);
    const base = join(folder, "faulty.yaml");
    expect(message.split("\n").map((line) => line.replace(/: .*/, ""))).toEqual([`${file}:4:22`, `${file}:5:5`, `${base}:11:27`, `${base}:13:34`]);
    expect(problems.map((problem) => problem.path.join("."))).toEqual(["boards.quay.counter.kind", "boards.quay.colour", "boards.quay.outputs.1", "boards.hill.timer.step"]);
  });

  test("a list of the variant is its own, even where the base's goes on", async () => {
    const file = await write("list.yaml", "base: base.yaml\npromises:\n  - step: { to: 40 s, from: 50 s }\n");
    const [problem, ...others] = (await refusal(file)).problems;
    expect(others).toEqual([]);
    expect(problem).toMatchObject({ line: 3, path: ["promises", 0, "step", "to"] });
    expect(problem!.file).toBeUndefined();
  });

  test("what was taken away but is needed is missed in the variant", async () => {
    const { message } = await refusal(await write("gone.yaml", "base: base.yaml\nboards:\n  quay:\n    counter: null\n"));
    expect(message).toMatch(/gone\.yaml:4:14: boards\.quay\.counter: missing/);
  });

  test("what the base refers to and the variant takes away", async () => {
    const { message } = await refusal(await write("no-inn.yaml", "base: base.yaml\nhouses: { inn: null }\n"));
    expect(message).toMatch(/base\.yaml:11:\d+: boards\.quay\.outputs\.0: no house is called "inn"/);
  });

  test("syntax errors of the base, in the base", async () => {
    await write("broken.yaml", "title: [unclosed\n");
    expect((await refusal(await write("on-broken.yaml", "base: broken.yaml\n"))).message).toMatch(/broken\.yaml:\d+:\d+: /);
  });
});

describe("bases that will not do", () => {
  test.each<[what: string, name: string, text: string, told: RegExp]>([
    ["missing", "lost.yaml", "title: T\nbase: nowhere.yaml\n", /lost\.yaml:2:7: base: found "nowhere\.yaml"; expected a scenario file; .*nowhere\.yaml: there is no such file/],
    ["a directory", "dir.yaml", "base: .\n", /dir\.yaml:1:7: base: .*this is a directory/],
    ["a number", "number.yaml", "base: 7\n", /base: found 7; expected the name of another scenario file/],
    ["nothing", "nothing.yaml", "base:\n", /base: found nothing; expected the name of another scenario file/],
    ["a list", "lists.yaml", "base: [a.yaml]\n", /base: found a list; expected the name of another scenario file/],
    ["itself", "self.yaml", "base: self.yaml\n", /self\.yaml:1:7: base: the bases go round in a circle: .*self\.yaml, based on .*self\.yaml/],
  ])("%s", async (_, name, text, told) => {
    expect((await refusal(await write(name, text))).message).toMatch(told);
  });

  test("a circle, told in the file that closes it, also through a link", async () => {
    await write("a.yaml", "base: b.yaml\n");
    await write("b.yaml", "base: c.yaml\n");
    await symlink(join(folder, "a.yaml"), join(folder, "c.yaml"));
    expect((await refusal(join(folder, "a.yaml"))).message).toMatch(/b\.yaml:1:7: base: the bases go round in a circle/);
  });

  test("more of them than anybody could follow", async () => {
    for (let i = 0; i < 15; i++) await write(`chain/${i}.yaml`, `base: ${i + 1}.yaml\n`);
    await write("chain/15.yaml", BASE);
    expect((await refusal(join(folder, "chain/0.yaml"))).message).toContain("more than 10 files stand on one another");
    expect((await readScenario(join(folder, "chain/6.yaml"))).title).toBe("Base");
  });

  test("through the command: status 2, one line, no stack", async () => {
    const { status, stdout, stderr } = await lampdrift(["check", join(folder, "lost.yaml")]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr.trim().split("\n")).toHaveLength(1);
  });
});

test("a text alone cannot have a base", () => {
  expect(() => parseScenario("base: base.yaml\n", "t.yaml")).toThrow(/^t\.yaml:1:7: base: found "base\.yaml"; this reads one text alone/);
});

describe("a base outside the scenario's own folder", () => {
  const outside = "which lies outside the folder of";

  test("is not read unless asked, however it is named", async () => {
    await write("far/secret.yaml", "password: hush\n");
    await symlink(join(folder, "far"), join(folder, "near-link"));
    await write("near/inside.yaml", BASE);
    await symlink(join(folder, "far/secret.yaml"), join(folder, "near/link.yaml"));
    for (const base of ["../far/secret.yaml", join(folder, "far/secret.yaml"), "link.yaml", "../missing.yaml"]) {
      const file = await write("near/variant.yaml", `base: ${base}\ntitle: Variant\n`);
      const { status, stderr } = await lampdrift(["check", file]);
      expect({ base, status }).toEqual({ base, status: 2 });
      expect(stderr).toContain(`${file}:1:7: base: found "${base}", ${outside} ${file}`);
      expect(stderr).not.toContain("password");
    }
    const file = await write("near/inner.yaml", "base: inside.yaml\n");
    expect((await lampdrift(["check", file])).status).toBe(0);
  });

  test("nor where a base of a base leads out of the folder of the first", async () => {
    await write("ground.yaml", BASE);
    await write("upper/sub/step.yaml", "base: ../../ground.yaml\n");
    const file = await write("upper/top.yaml", "base: sub/step.yaml\n");
    const { message } = await refusal(file);
    expect(message).toContain(outside);
    expect((await lampdrift(["check", file, "--base-anywhere"])).status).toBe(0);
  });
});
