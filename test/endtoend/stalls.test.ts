import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { scratch } from "./command.js";
import { lampdrift } from "./inprocess.js";

const folder = await scratch();

async function scenario(name: string, timer: string, room = ""): Promise<string> {
  const file = join(folder, name);
  await writeFile(
    file,
    `lampdrift: 1
title: Leaky
opening: { from: "10:00", until: "18:00", run: 2 }
${room}
houses: { inn: , mill: }
boards: { quay: { timer: ${timer}, counter: { kind: ring, steps: 2 }, outputs: { 0: inn, 1: mill } } }
`,
  );
  return file;
}

test.each(["1", "4"])("a build whose timer stalls is told as that, with divide %s", async (divide) => {
  const timer = `{ kind: astable, ra: 100k, rb: 900k, divide: ${divide}, c: { value: 100u, leakage: { typical: 0.1 uA, limit: 8 uA } } }`;
  const file = await scenario(`stalling-${divide}.yaml`, timer);
  const build = join(folder, "build.json");
  await writeFile(build, '{ "quay.leakage": 1 }');
  const text = await lampdrift(["run", file, "--build", build]);
  expect(text.stderr).toBe("");
  expect(text.stdout).toMatch(/\nquay +2 +stands still +stands still +stands still +0\n/);
  const { stdout } = await lampdrift(["run", file, "--build", build, "--json"]);
  expect(JSON.parse(stdout)).toMatchObject({
    boards: [{ id: "quay", stepSeconds: null, firstStepSeconds: null, cycleSeconds: null, pulses: 0 }],
    scenes: { distinct: 1, changes: 0 },
  });
});

test("a timer that stalls in the warmest hour alone is warned of", async () => {
  const file = await scenario(
    "warm.yaml",
    "{ kind: astable, ra: 100k, rb: { value: 900k, tempco: 1 %/K }, c: { value: 100u, leakage: 3.8 uA } }",
    "room: { mean: 25 °C, swing: 10 K }",
  );
  const { status, stderr } = await lampdrift(["run", file]);
  // the leakage is over its published limit, too
  expect(status).toBe(1);
  // 12 V - 3.8 uA · (100 kΩ + 990 kΩ) = 7.86 V, below 8 V
  expect(stderr).toContain(`${file}:6:26: warning: boards.quay.timer: at 35 °C, which the room reaches every day, the timer stalls`);
});
