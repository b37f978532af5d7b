import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { demo, scratch } from "./command.js";
import { lampdrift, unwrapped } from "./inprocess.js";

const folder = await scratch();

/** The figures of a run, as far as they are looked at here. */
interface Run {
  readonly repeat: { readonly echoes: readonly { readonly afterSeconds: number; readonly share: number }[] };
}

const echoesOf = async (file: string): Promise<Run["repeat"]["echoes"]> =>
  (JSON.parse((await lampdrift(["run", file, "--json"])).stdout) as Run).repeat.echoes;

test("following the advice about two boards that are too close removes their echo", async () => {
  const before = await echoesOf(demo("twin-boards"));
  expect(before[0]!.share).toBeGreaterThan(0.9);

  const { stdout } = await lampdrift(["run", demo("twin-boards")]);
  const advice = /set the step of (\w+) to ([^.]*?) or less, or to ([^.]*?) or more/.exec(unwrapped(stdout));
  expect(advice).not.toBeNull();
  const [, board, shorter, longer] = advice!;
  const text = await readFile(demo("twin-boards"), "utf8");
  for (const step of [shorter!, longer!]) {
    const at = text.indexOf("setTo", text.indexOf(`  ${board!}:\n`));
    const changed = `${text.slice(0, at)}${text.slice(at).replace(/setTo: .*/, `setTo: ${step}`)}`;
    expect(changed).not.toBe(text);
    const file = join(folder, "followed.yaml");
    await writeFile(file, changed);
    const nearby = (await echoesOf(file)).filter(({ afterSeconds }) => Math.abs(afterSeconds - before[0]!.afterSeconds) < 100);
    expect(nearby).toEqual([]);
  }
});

test("days that repeat the day before are told first by run, and noted by check, with the condition and the lines to type", async () => {
  const told = /Every day shows exactly what the day before showed: .* no jitter given; with a jitter of 0\.3 % it would do so for [\d.]+ % .*`overnight: on`/;
  const run = unwrapped((await lampdrift(["run", demo("twin-boards")])).stdout);
  expect(run).toMatch(told);
  expect(run.search(told)).toBeLessThan(run.indexOf("different scenes"));
  expect(unwrapped((await lampdrift(["check", demo("twin-boards")])).stdout)).toMatch(told);
  expect((await lampdrift(["check", demo("tidewater-lane")])).stdout).not.toContain("Every day shows");
});
