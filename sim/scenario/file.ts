import { readFile, stat } from "node:fs/promises";
import type { Scenario } from "./model.js";
import { ScenarioError } from "./problems.js";
import { parseScenario } from "./read.js";
import { SIZE_LIMIT } from "./source.js";

/**
 * Reads a scenario file from disk. Throws {@link ScenarioError} when it cannot be read as text or has problems.
 */
export async function readScenario(path: string): Promise<Scenario> {
  return parseScenario(await readText(path), path);
}

/** The text of a file that should be a page or two of UTF-8; anything else is refused before it is read whole. */
export async function readText(path: string): Promise<string> {
  const fail = (message: string): never => {
    throw new ScenarioError(path, [{ path: [], at: "value", message, line: 0, column: 0 }]);
  };
  const facts = await stat(path).catch((error: unknown) => fail(whyUnreadable(error)));
  if (facts.isDirectory()) fail("this is a directory; expected a scenario file");
  if (!facts.isFile()) fail("this is not a regular file; expected a scenario file");
  if (facts.size > SIZE_LIMIT) {
    const megabytes = (facts.size / 1e6).toFixed(1);
    fail(`the file has ${megabytes} MB, more than ${SIZE_LIMIT / 1e6} MB; a scenario is a page or two of text`);
  }
  const bytes = await readFile(path).catch((error: unknown) => fail(whyUnreadable(error)));
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return fail("the file is not UTF-8 text; save it as UTF-8");
  }
}

function whyUnreadable(error: unknown): string {
  const { code } = error as NodeJS.ErrnoException;
  if (code === "ENOENT") return "there is no such file";
  if (code === "EACCES" || code === "EPERM") return "no permission to read this file";
  return `cannot be read (${code ?? "unknown reason"})`;
}
