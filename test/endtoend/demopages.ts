/** Reports and cards of the demos, made once for all tests that look at them. */
import { existsSync } from "node:fs";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { setTimeout as wait } from "node:timers/promises";
import { join } from "node:path";
import { briefly, demo, scratch, type demos, type Outcome } from "./command.js";
import { lampdrift } from "./inprocess.js";

type Demo = (typeof demos)[number];

/** Each gives the directory that it was written into, which no test may change. */
export interface DemoPages {
  /** The report, with 20 builds drawn. */
  report(name: Demo): Promise<string>;
  /** The report of its first two days, without builds: for what does not hang on how long it runs. */
  brief(name: Demo): Promise<string>;
  /** The cards, dated {@link DATED}. */
  cards(name: Demo): Promise<string>;
}

const DATED = "2031-05-17";

/** For the tests of one file; other files, of other workers too, share what is made where `npm test` runs them together. */
export async function demoPages(): Promise<DemoPages> {
  const shared = process.env["LAMPDRIFT_SHARED_PAGES"] ?? (await scratch());
  // as a path that is the same on every machine, since the report tells it
  const from = (name: Demo): string => `scenarios/${name}.yaml`;
  return {
    report: (name) => once(join(shared, `report-${name}`), (out) => lampdrift(["report", from(name), "-o", out, "--builds", "20"])),
    brief: (name) =>
      once(join(shared, `brief-${name}`), async (out) => {
        const file = `${out}.yaml`;
        await writeFile(file, briefly(await readFile(demo(name), "utf8")));
        return lampdrift(["report", file, "-o", out, "--builds", "0"]);
      }),
    cards: (name) => once(join(shared, `cards-${name}`), (out) => lampdrift(["cards", from(name), "-o", out, "--dated", DATED])),
  };
}

/** Makes a directory, or waits until whoever is first has made it. */
async function once(out: string, make: (out: string) => Promise<Outcome>): Promise<string> {
  const [turn, end] = [`${out}.turn`, `${out}.end`];
  const first = await mkdir(turn).then(
    () => true,
    () => false,
  );
  if (first) {
    const outcome = await make(out).catch((error: unknown) => ({ status: -1, stdout: "", stderr: String(error) }));
    await writeFile(`${end}.part`, JSON.stringify(outcome));
    await mkdir(end);
  }
  while (!existsSync(end)) await wait(50);
  const { status, stdout, stderr } = JSON.parse(await readFile(`${end}.part`, "utf8")) as Outcome;
  // a report of a demo that breaks its promise is whole
  if (status < 0 || status > 1 || stdout !== "" || !stderr.startsWith("wrote ")) throw new Error(`${out}: status ${status}\n${stdout}\n${stderr}`);
  return out;
}
