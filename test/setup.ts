/** Before and after all test files. */
import { readFileSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { BrowserServer } from "playwright-core";
import type { TestCase, TestModule, TestProject } from "vitest/node";
import { refuseStaleBuild } from "./built.js";
import { noBrowser, startChromium } from "./chromium.js";

/** Has ready what several files look at; at the end takes it away, and says what could not be looked at. */
export async function setup({ vitest }: TestProject): Promise<() => Promise<void>> {
  refuseStaleBuild();
  const shared = await mkdtemp(join(tmpdir(), "lampdrift-pages-"));
  process.env["LAMPDRIFT_SHARED_PAGES"] = shared;
  const endBrowser = noBrowser === false ? await offerBrowser() : undefined;
  return async () => {
    await endBrowser?.();
    await rm(shared, { recursive: true, force: true });
    const missed = noBrowser === false ? [] : vitest.state.getTestModules().flatMap(checksLeftOut);
    for (const line of vitest.state.getTestModules().flatMap(notedSkips)) console.log(line);
    if (missed.length > 0) console.log(`\nLeft out, since ${String(noBrowser)}:\n${missed.map((line) => `  ${line}\n`).join("")}`);
  };
}

/** One browser for all workers: it starts when the first of them asks at this address, which answers where to connect. */
async function offerBrowser(): Promise<() => Promise<void>> {
  let running: Promise<BrowserServer> | undefined;
  const server = createServer((_, response) => {
    running ??= startChromium();
    running.then(
      (started) => response.end(started.wsEndpoint()),
      (error: unknown) => response.writeHead(500).end(String(error)),
    );
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  process.env["LAMPDRIFT_BROWSER"] = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  return async () => {
    server.close();
    await (await running)?.close();
  };
}

/** Tests that were left out for a reason of their own, with the reason. */
function notedSkips(module: TestModule): string[] {
  return Array.from(module.children.allTests("skipped")).flatMap((test) => {
    const result = test.result();
    return result.state === "skipped" && result.note !== undefined ? [`Left out: ${module.relativeModuleId}: ${test.fullName} (${result.note})`] : [];
  });
}

/** What a file leaves out for want of a browser: whole suites with the number of their tests, single tests by name. */
function checksLeftOut(module: TestModule): string[] {
  if (!readFileSync(module.moduleId, "utf8").includes("./browser.js")) return [];
  const counts = new Map<string, number>();
  for (const test of module.children.allTests("skipped")) {
    const what = `${module.relativeModuleId}: ${suiteOrTest(test)}`;
    counts.set(what, (counts.get(what) ?? 0) + 1);
  }
  return Array.from(counts, ([what, count]) => (count === 1 ? what : `${what} (${count} checks)`));
}

function suiteOrTest({ parent, fullName }: TestCase): string {
  return parent.type === "suite" && parent.options.mode === "skip" ? parent.fullName : fullName;
}
