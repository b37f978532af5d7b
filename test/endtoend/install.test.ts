import { copyFile, mkdir, readdir, readFile, realpath, symlink, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { beforeAll, describe, expect, test, vi } from "vitest";
import { figures, readScenario, simulate } from "../../sim/index.js";
import { thorough } from "../thorough.js";
import { demo, program, project, scratch, type Outcome } from "./command.js";

vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

interface Lock {
  readonly packages: Readonly<Record<string, { readonly version?: string; readonly dev?: boolean; readonly optional?: boolean }>>;
}

const home = await scratch();
const installed = join(home, "node_modules/lampdrift");
let contents: string[] = [];
/** What npm said while it installed; null where it could not. */
let said: string | null = null;

/** Packs the program as it would be published, installs it as a command of its own, and hands it to an empty project. */
beforeAll(async () => {
  if (!thorough) return;
  // dist is built already, and must not be built anew while other tests run it
  const packed = await program("npm", ["pack", "--ignore-scripts", "--json", "--pack-destination", home], { cwd: project });
  expect(packed.status, packed.stderr).toBe(0);
  const [{ filename, files }] = JSON.parse(packed.stdout) as [{ filename: string; files: { path: string }[] }];
  contents = files.map(({ path }) => path);
  await writeFile(join(home, "package.json"), '{ "name": "harbour", "private": true, "type": "module" }\n');
  const options = ["--global", "--prefix", join(home, "global"), "--prefer-offline", "--fetch-retries=0", "--no-audit", "--no-fund"];
  const { status, stdout, stderr } = await program("npm", ["install", ...options, `./${filename}`], { cwd: home });
  if (status !== 0) return installByHand(filename);
  said = stdout + stderr;
  await mkdir(join(home, "node_modules/.bin"), { recursive: true });
  await symlink("../global/lib/node_modules/lampdrift", installed);
  await symlink("../../global/bin/lampdrift", join(home, "node_modules/.bin/lampdrift"));
});

/**
 * Where npm reaches neither its cache nor a registry: unpacks the package and puts beside it what the lock file says is
 * installed with it, and nothing of what only development needs, so that an undeclared dependency is still missed.
 */
async function installByHand(tarball: string): Promise<void> {
  await mkdir(installed, { recursive: true });
  const unpacked = await program("tar", ["-xzf", join(home, tarball), "-C", installed, "--strip-components=1"]);
  expect(unpacked.status, unpacked.stderr).toBe(0);
  const { packages } = JSON.parse(await readFile(join(project, "package-lock.json"), "utf8")) as Lock;
  const present = new Set(await readdir(join(project, "node_modules"), { recursive: false }));
  for (const [path, { dev = false }] of Object.entries(packages)) {
    const [, name, ...deeper] = path.split("node_modules/");
    if (dev || name === undefined || deeper.length > 0 || !present.has(name.split("/")[0]!)) continue;
    await mkdir(dirname(join(home, path)), { recursive: true });
    await symlink(join(project, path), join(home, path));
  }
  await mkdir(join(home, "node_modules/.bin"), { recursive: true });
  await symlink("../lampdrift/dist/bin/cli.js", join(home, "node_modules/.bin/lampdrift"));
  await program("chmod", ["+x", join(installed, "dist/bin/cli.js")]);
}

/** As npm's scripts run it: by the name that npm has put beside the packages. */
const command = (...args: string[]): Promise<Outcome> => program(join(home, "node_modules/.bin/lampdrift"), args, { cwd: home });

describe.skipIf(!thorough)("the package", () => {
  test("holds the program, its types and its scenarios, and nothing of its making", () => {
    expect(contents).toEqual(
      expect.arrayContaining([
        "package.json",
        "README.md",
        "LICENSE",
        "dist/bin/cli.js",
        "dist/sim/index.js",
        "dist/sim/index.d.ts",
        "scenarios/tidewater-lane.yaml",
        "scenarios/starter.yaml",
        "scenarios/scenario.schema.json",
        "scenarios/export.schema.json",
      ]),
    );
    const strange = contents.filter((path) => !/^(dist\/lampdrift\.html|dist\/(reports\/live|bin)\/notices\.txt|dist\/reports\/live\/bundle\.js|dist\/bin\/(output\/)?[\w-]+\.js|dist\/sim\/.*\.(js|d\.ts)|scenarios\/[\w.-]+\.(yaml|json|svg)|package\.json|[A-Z]+\.md|LICENSE)$/.test(path));
    expect(strange).toEqual([]);
  });

  test("is installed by itself, not linked back to where it was made", async () => {
    expect((await realpath(installed)).startsWith(join(await realpath(home), "/"))).toBe(true);
  });

  test("is installed for everybody without a warning", ({ skip }) => {
    skip(said === null, "npm reaches neither its cache nor a registry");
    expect(said).toMatch(/added \d+ packages/);
    expect(said).not.toMatch(/warn|deprecated|ERR/i);
  });
});

test("each package that this is built upon has its reason told, and no other", async () => {
  const { dependencies, devDependencies } = JSON.parse(await readFile(join(project, "package.json"), "utf8")) as Record<string, Record<string, string>>;
  const [, list = ""] = (await readFile(join(project, "DEVELOPERS.md"), "utf8")).split("## What it is built upon");
  const rows = list.split("\n## ")[0]!.matchAll(/^\| (`.*`) \| (.+) \|$/gm);
  const told = Array.from(rows).flatMap(([, names = "", reason = ""]) => {
    expect(reason.length, names).toBeGreaterThan(8);
    return names.split(", ").map((name) => name.replaceAll("`", ""));
  });
  expect(told.sort()).toEqual([...Object.keys(dependencies!), ...Object.keys(devDependencies!)].sort());
});

describe.skipIf(!thorough)("installed into an empty project", () => {
  test("the command runs", async () => {
    const { version } = JSON.parse(await readFile(join(project, "package.json"), "utf8")) as { version: string };
    expect(await command("--version")).toEqual({ status: 0, stdout: `${version}\n`, stderr: "" });
  });

  test("a new scenario can be written, checked and reported", async () => {
    expect((await command("new", "harbour.yaml")).status).toBe(0);
    expect((await command("check", "harbour.yaml")).status).toBe(0);
    const { status, stderr } = await command("report", "harbour.yaml", "--builds", "10", "-o", "out");
    expect({ status, wrote: stderr.startsWith("wrote out/index.html") }).toEqual({ status: 0, wrote: true });
  });

  test("the library is typed, and computes the figures that the project computes", async () => {
    await copyFile(demo("twin-boards"), join(home, "twin.yaml"));
    await writeFile(
      join(home, "plan.ts"),
      `
import { figures, readScenario, simulate, ScenarioError, type Figures, type Scenario } from "lampdrift";

const scenario: Scenario = await readScenario("twin.yaml");
const found: Figures = figures(simulate(scenario));
const refused: unknown = await readScenario("missing.yaml").catch((error: unknown) => error);
console.log(JSON.stringify({ found, refused: refused instanceof ScenarioError && refused.problems.length }));
`,
    );
    // no types but those of the package, and these are checked too
    const compilerOptions = { strict: true, module: "nodenext", target: "es2023", lib: ["es2023", "dom"], types: [] };
    // the types say something: a mistake is found, and nothing else
    await writeFile(join(home, "mistake.ts"), 'import { figures } from "lampdrift";\nfigures("twin.yaml");\n');
    await writeFile(join(home, "tsconfig.json"), JSON.stringify({ compilerOptions, files: ["plan.ts", "mistake.ts"] }));
    const compiled = await program(process.execPath, [join(project, "node_modules/typescript-7/bin/tsc"), "-p", ".", "--pretty", "false"], { cwd: home });
    expect(compiled.status).not.toBe(0);
    expect(compiled.stdout.trimEnd().split("\n")).toEqual([expect.stringMatching(/^mistake\.ts\(2,9\): error TS2345/)]);
    const { status, stdout, stderr } = await program(process.execPath, ["plan.js"], { cwd: home });
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const expected = figures(simulate(await readScenario(demo("twin-boards"))));
    expect(JSON.parse(stdout)).toEqual({ found: JSON.parse(JSON.stringify(expected)) as unknown, refused: 1 });
  });

  test("nothing but the library and the package's description can be imported", async () => {
    const load = (path: string): Promise<Outcome> => program(process.execPath, ["--input-type=module", "-e", `await import("${path}")`], { cwd: home });
    expect((await load("lampdrift")).status).toBe(0);
    const inside = await load("lampdrift/dist/sim/engine/queue.js");
    expect(inside.status).toBe(1);
    expect(inside.stderr).toContain("ERR_PACKAGE_PATH_NOT_EXPORTED");
  });
});
