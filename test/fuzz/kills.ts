/** Ends programs that write, at moments drawn by lot, and looks at what they leave. */
import { spawn } from "node:child_process";
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { setTimeout as sleep } from "node:timers/promises";
import { writeNew } from "../../reports/output/files.js";
import { writeFolder } from "../../reports/output/folder.js";
import { Draws } from "./draws.js";
import { folderOf, isWhole } from "./written.js";

const SIGNALS = ["SIGKILL", "SIGINT", "SIGTERM"] as const;

/**
 * Ends a program that does nothing but write, so many times, each time at another moment; what it leaves must be whole, and
 * what the next one cleans away. Returns what is wrong, and how often it was ended with a folder between two makings.
 */
export async function killWriting(kills: number, seed: string): Promise<{ faults: string[]; amid: number }> {
  const draws = new Draws(`${seed} kills`);
  const directory = await mkdtemp(join(tmpdir(), "lampdrift-kills-"));
  const faults: string[] = [];
  let amid = 0;
  try {
    for (let n = 0; n < kills; n++) {
      const signal = draws.of(SIGNALS);
      await endWriting(directory, signal, draws.below(60));
      const must = (truth: boolean, what: string): void => {
        if (!truth) faults.push(`kill ${n} (${signal}): ${what}`);
      };
      const out = join(directory, "out");
      const between = await faultsIn(out);
      if (between.length > 0) amid++;
      must(between.length === 0 || (await readdir(out)).includes(".ready"), `${between.join(", ")}, and no way to go on`);
      // what the next one of another kind does
      await writeFolder(out, "cards", new Map([["cards.html", "cards"]]));
      faults.push(...(await faultsIn(out)).map((fault) => `after kill ${n} (${signal}): ${fault}`));
      await writeNew(join(directory, `next-${n}.txt`), "next");
      await rm(join(directory, `next-${n}.txt`));
      for (const name of await readdir(directory)) {
        if (name === "out") continue;
        must(!name.startsWith("."), `left behind: ${name}`);
        must(isWhole(await readFile(join(directory, name), "utf8")), `half of ${name}`);
        if (name.endsWith(".yaml")) await rm(join(directory, name));
      }
    }
  } finally {
    await rm(directory, { recursive: true, force: true });
  }
  return { faults, amid };
}

/** Starts the program, waits until it has written something and a little longer, and ends it. */
async function endWriting(directory: string, signal: NodeJS.Signals, wait: number): Promise<void> {
  const program = fileURLToPath(new URL(import.meta.url.endsWith(".ts") ? "../../dist/test/fuzz/writing.js" : "writing.js", import.meta.url));
  const child = spawn(process.execPath, [program, directory], { stdio: "ignore" });
  const gone = new Promise((resolve) => child.once("exit", resolve));
  const begun = async (): Promise<boolean> => (await readdir(directory)).some((name) => name.startsWith(String(child.pid)));
  while (child.exitCode === null && !(await begun())) await sleep(5);
  await sleep(wait);
  child.kill(signal);
  await gone;
}

/** What is not of one making: every file of the report has the same mark, and there are all of it and no others. */
async function faultsIn(folder: string): Promise<string[]> {
  const textOf = (name: string): Promise<string> => readFile(join(folder, name), "utf8").catch(() => "");
  const expected = folderOf(Number(/\d+$/.exec(await textOf("index.html"))?.[0]));
  const found = (await readdir(folder)).filter((name) => !name.startsWith(".") && name !== "cards.html").sort();
  const faults = found.join() === [...expected.keys()].sort().join() ? [] : [`files of no making: ${found.join(", ")}`];
  for (const [name, text] of expected) if ((await textOf(name)) !== text) faults.push(`${name} is of another making`);
  return faults;
}
