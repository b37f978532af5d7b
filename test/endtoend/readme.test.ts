import { existsSync } from "node:fs";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { project, scratch } from "./command.js";
import { lampdrift } from "./inprocess.js";

const readme = await readFile(join(project, "README.md"), "utf8");
const folder = await scratch();

test("the scenario in the README is whole and sound", async () => {
  const [, text] = /```yaml\n([^]*?)```/.exec(readme)!;
  const file = join(folder, "readme.yaml");
  await writeFile(file, text!);
  expect(await lampdrift(["check", file])).toMatchObject({ status: 0, stderr: "" });
});

test("the README names the commands that there are, and no others", async () => {
  const { stdout } = await lampdrift(["--help"]);
  const [, listed] = /Commands:\n([^]*)$/.exec(stdout)!;
  const real = [...listed!.matchAll(/^ {2}([a-z]+)/gm)].map(([, name]) => name!);
  const told = [...readme.matchAll(/^\| `lampdrift ([a-z]+)/gm)].map(([, name]) => name!);
  expect(told.sort()).toEqual(real.sort());
});

test("the options in the README are those of their commands", async () => {
  const rows = [...readme.matchAll(/^\| `lampdrift ([a-z]+)(.*)$/gm)].map(([, command, row]) => ({ command: command!, options: row!.match(/--[a-z-]+/g) ?? [] }));
  const helps = new Map<string, string>();
  for (const { command } of rows) helps.set(command, (await lampdrift([command, "--help"])).stdout);
  for (const { command, options } of rows) for (const option of options) expect(helps.get(command), command).toContain(`  ${option} `);
  const all = [...helps.values()].join("\n");
  const elsewhere = readme.match(/(?<=`(?:[a-z]+ )*)--[a-z-]+/g)!;
  expect(elsewhere.length).toBeGreaterThan(20);
  for (const option of elsewhere) expect(all).toContain(option);
});

test("every file that the README and DEVELOPERS.md point to is there", async () => {
  const developers = await readFile(join(project, "DEVELOPERS.md"), "utf8");
  const links = [...`${readme}${developers}`.matchAll(/\]\(([^)#]+)\)/g)].map(([, target]) => target!);
  expect(links.length).toBeGreaterThan(3);
  expect(links.filter((target) => !existsSync(join(project, target)))).toEqual([]);
});
