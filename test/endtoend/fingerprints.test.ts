import { createHash } from "node:crypto";
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { buildOf, eachSpell, figures, readScenario, simulate, spread, type Build, type Scenario } from "../../sim/index.js";
import { demo, demos } from "./command.js";
import { demoPages } from "./demopages.js";

/*
 * What the demos come out as, to the last bit. Nothing here says that it is right: that is what the other tests are for.
 * It says that it is the same as before, in every place where somebody may rely on it; whoever changes a row on purpose
 * renews the table (npm test -- fingerprints -u) and names the row and the reason in the commit.
 */
const pages = await demoPages();

test("the demos come out as they did before", { timeout: 180_000 }, async () => {
  const rows: string[] = [];
  for (const name of demos) {
    for (const [what, print] of Object.entries(await printsOf(name))) rows.push(`${name.padEnd(16)}${what.padEnd(14)}${print}`);
  }
  await expect(`${rows.join("\n")}\n`).toMatchFileSnapshot("fingerprints.txt");
});

async function printsOf(name: (typeof demos)[number]): Promise<Record<string, string>> {
  const scenario = await readScenario(demo(name));
  const drawn = Array.from({ length: 50 }, (_, i) => buildOf(scenario, i + 1));
  const records = [simulate(scenario), simulate(scenario, { build: drawn[0]! })];
  return {
    draws: printOf(drawn.map(({ deviations }) => [...deviations])),
    record: printOf(showings(scenario)),
    "of build 1": printOf(showings(scenario, drawn[0])),
    figures: printOf(records.map(figures)),
    "spread of 50": printOf(await spread(scenario, { builds: 50, workers: 1 })),
    report: await printOfFiles(await pages.report(name)),
    cards: await printOfFiles(await pages.cards(name)),
  };
}

/** Every spell of a record with its houses by name, and the pulses of the boards. */
function showings(scenario: Scenario, build?: Build): unknown {
  const record = simulate(scenario, build === undefined ? {} : { build });
  const spells: unknown[] = [];
  eachSpell(record, (scene, start, end, opening) => {
    spells.push([opening, start, end, record.scenes.lit(scene).map((house) => scenario.houses[house]!.id)]);
  });
  return [spells, record.boards];
}

/** The first ten digits of the SHA-256 digest; numbers count with all their digits. */
function printOf(value: unknown): string {
  return createHash("sha256").update(JSON.stringify(value)).digest("hex").slice(0, 10);
}

/** Of all files of a directory. Of the page its script is left out, which comes out of the bundler. */
async function printOfFiles(directory: string): Promise<string> {
  const files: unknown[] = [];
  // the list of what was made together holds digests of all others
  for (const name of (await readdir(directory)).filter((one) => !one.startsWith(".")).sort()) {
    const text = await readFile(join(directory, name), "utf8");
    files.push([name, text.replace(/<script[^]*?<\/script>/g, "<script>").replace(/sha256-[\w+/]*=*/g, "script")]);
  }
  return printOf(files);
}
