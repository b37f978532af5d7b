import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { demo, scratch } from "./command.js";
import { lampdrift, unwrapped } from "./inprocess.js";

const folder = await scratch();

/** The highest point of the curve of returns after its first fall, and its mean, as run prints it for programs. */
async function curveOf(file: string): Promise<{ worst: number; mean: number }> {
  const { repeat } = JSON.parse((await lampdrift(["run", file, "--json"])).stdout) as { repeat: { curve: { share: number }[] } };
  const shares = repeat.curve.map(({ share }) => share);
  const rises = shares.findIndex((share, i) => i > 0 && share > shares[i - 1]!);
  return { worst: Math.max(...shares.slice(rises)), mean: shares.reduce((sum, share) => sum + share, 0) / shares.length };
}

test("following the advice about two boards that are too close lowers the worst return and the mean, as it says", async () => {
  const { stdout } = await lampdrift(["run", demo("twin-boards")]);
  const advice = /With the step of (\w+) at ([^.]*?) the worst return .*? is ([\d.]+) % instead of ([\d.]+) %, the mean ([\d.]+) % instead of ([\d.]+) %/.exec(
    unwrapped(stdout),
  );
  expect(advice).not.toBeNull();
  expect(unwrapped(stdout)).toMatch(/Then one round of north and one round of south end together\. For this echo to vanish they would have to end 1 min 40 s apart\./);
  const [, board, step, ...told] = advice!;
  const text = await readFile(demo("twin-boards"), "utf8");
  const at = text.indexOf("setTo", text.indexOf(`  ${board!}:\n`));
  const file = join(folder, "followed.yaml");
  await writeFile(file, `${text.slice(0, at)}${text.slice(at).replace(/setTo: .*/, `setTo: ${step!}`)}`);
  const [before, after] = [await curveOf(demo("twin-boards")), await curveOf(file)];
  // told of a part of the run, to three digits
  for (const [i, value] of [after.worst, before.worst, after.mean, before.mean].entries()) expect(Math.abs(100 * value - Number(told[i]))).toBeLessThan(2);
  expect(after.worst).toBeLessThan(0.9 * before.worst);
  expect(after.mean).toBeLessThan(before.mean);
});

test("days that repeat the day before are told first by run, and noted by check, with the condition and the lines to type", async () => {
  const told = /Every day shows exactly what the day before showed: .* no jitter given; with a jitter of 0\.3 % it would do so for [\d.]+ % .*`overnight: on`/;
  const run = unwrapped((await lampdrift(["run", demo("twin-boards")])).stdout);
  expect(run).toMatch(told);
  expect(run.search(told)).toBeLessThan(run.indexOf("different scenes"));
  expect(unwrapped((await lampdrift(["check", demo("twin-boards")])).stdout)).toMatch(told);
  expect((await lampdrift(["check", demo("tidewater-lane")])).stdout).not.toContain("Every day shows");
});
